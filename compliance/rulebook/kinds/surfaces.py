"""Kind `surfaces`: kinds of surface and materials that a label names as to be treated, or as not to be."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Self

from compliance.rulebook.facts import Branch, Leaf, Node, Paths, Scope, member
from compliance.rulebook.kind import Judgement, Kind, Listed, missing
from compliance.rulebook.material_words import RuledOut
from compliance.rulebook.outcome import MET, NOT_MET, Outcome
from compliance.rulebook.reading import Params, as_text, each, one_of
from compliance.rulebook.vocabulary import FactPath, read_path, words_of
from shared.wording import Wording

_LEAVE_IT = Wording("Do not treat it with this.", "No lo trate con esto.")


@dataclass(frozen=True)
class Surfaces(Kind):
    """Surfaces of these kinds only (`only_on`), or none of these materials (`not_on`), by their words."""

    name = "surfaces"
    judges = ("products", "mixes")
    wordings = {
        "surfaces/kinds_listed": Wording(
            "Only the kind was looked at: {by} lists {what}.", "Solo se miró el tipo: {by} indica {what}."
        ),
        "surfaces/not_listed": Wording(
            "Only the material was looked at: none that {by} rules out ({what}) is on the record.",
            "Solo se miró el material: en el registro no hay ninguno que {by} excluya ({what}).",
        ),
        "surfaces/not_met": Wording(
            "{by} does not allow treating {what}. {mend}", "{by} no permite tratar {what}. {mend}"
        ),
    }

    treated: FactPath
    only_on: Mapping[str, Wording] | None = None
    not_on: tuple[str, ...] = ()

    @classmethod
    def read(cls, params: Params) -> Self:
        treated = read_path("mix.treated", params.setting.roots, lists=True)
        if params.which("only_on", "not_on") == "not_on":
            return cls(treated, not_on=params.value("not_on", each(as_text)))
        kinds = words_of(treated, "kind")
        return cls(treated, {name: kinds[name] for name in params.value("only_on", each(one_of(kinds)))})

    def judge(self, scope: Scope) -> Judgement:
        surfaces = self.treated.items(scope)
        name = "material" if self.only_on is None else "kind"
        stated = [(item, _leaf(item, name)) for item in surfaces.items]
        leaves = [leaf for _, leaf in stated]
        found = [(item, leaf, self._bars(item, leaf)) for item, leaf in stated]
        barred = [(item, leaf) for item, leaf, bars in found if bars]
        if barred:
            about = tuple(path for _, leaf in barred for path in leaf.about)
            what = Listed(tuple(self._said(item, leaf) for item, leaf in barred))
            return Judgement(NOT_MET, "surfaces/not_met", about, {"what": what}, mend=_LEAVE_IT)
        lacks = (*surfaces.lacks, *(path for leaf in leaves for path in leaf.lacks))
        if lacks or not leaves:
            return missing(lacks or surfaces.about)
        for _, leaf, bars in found:
            if bars is None:
                return missing(leaf.about, why=self._unsure(str(leaf.value)))
        return self._nothing_barred([str(leaf.value) for leaf in leaves], leaves)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})

    def _nothing_barred(self, values: list[str], leaves: list[Leaf]) -> Judgement:
        about = tuple(path for leaf in leaves for path in leaf.about)
        if self.only_on is None:
            what, wording = Listed(self.not_on), "surfaces/not_listed"
        else:
            what, wording = Listed(tuple(self.only_on[value] for value in values)), "surfaces/kinds_listed"
        return Judgement(MET, wording, about, {"what": what})

    def _bars(self, item: Node, leaf: Leaf) -> bool | None:
        """Whether this rules a surface out; unknown where an entry may mean its material."""
        if not isinstance(leaf.value, str):
            return False
        if self.only_on is not None:
            return leaf.value not in self.only_on
        return self._ruled_out.bars(leaf.value, str(_leaf(item, "kind").value))

    @cached_property
    def _ruled_out(self) -> RuledOut:
        kinds = words_of(self.treated, "kind")
        return RuledOut.read(self.not_on, {name: (word.en, word.es) for name, word in kinds.items()})

    def _said(self, item: Node, leaf: Leaf) -> Wording:
        """`North slope (roof)`."""
        name, value = _leaf(item, "name").value or "?", str(leaf.value)
        word = Wording(value, value) if self.only_on is None else words_of(self.treated, "kind")[value]
        return Wording(f"{name} ({word.en})", f"{name} ({word.es})")

    def _unsure(self, material: str) -> Wording:
        entries = ", ".join(f"“{entry}”" for entry in self.not_on)
        return Wording(
            f"ruled out is {entries}, and the record has “{material}”, which may be meant",
            f"se excluye {entries}, y el registro tiene «{material}», que puede estar incluido",
        )


def _leaf(item: Node, name: str) -> Leaf:
    found = member(item, name) if isinstance(item, Branch) else item
    paths: Paths = ()
    return found if isinstance(found, Leaf) else Leaf(None, paths)
