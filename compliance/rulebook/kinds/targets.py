"""Kind `targets`: what was to be killed is named among these."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Self

from compliance.rulebook.facts import Leaf, Scope
from compliance.rulebook.kind import Judgement, Kind, Listed, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, each, one_of
from compliance.rulebook.vocabulary import FactPath, read_path
from shared.wording import Blank, Wording


@dataclass(frozen=True)
class Targets(Kind):
    """Every target of the treatment is among those named; without any target it can't tell."""

    name = "targets"
    judges = ("document", "products")
    wordings = {
        "targets/met": Wording("{by} names what was treated.", "{by} nombra lo que se trató."),
        "targets/not_met": Wording(
            "{by} does not name {what}, only {named}. {mend}",
            "{by} no nombra {what}, solo {named}. {mend}",
        ),
    }

    named: Mapping[str, Wording]
    targets: FactPath

    @classmethod
    def read(cls, params: Params) -> Self:
        targets = read_path("targets", params.setting.roots, lists=True)
        known = targets.term.item.words if targets.term.item else {}
        return cls({name: known[name] for name in params.value("named", each(one_of(known)))}, targets)

    def judge(self, scope: Scope) -> Judgement:
        targets = self.targets.items(scope)
        words = [
            item.value for item in targets.items if isinstance(item, Leaf) and isinstance(item.value, str)
        ]
        if not words:
            return missing(targets.lacks or targets.about)
        known = self.targets.term.item.words if self.targets.term.item else {}
        other = tuple(known[word] for word in words if word not in self.named)
        if not other:
            return Judgement(Outcome.MET, "targets/met", targets.about)
        blanks: dict[str, Blank] = {"what": Listed(other), "named": Listed(tuple(self.named.values()))}
        return Judgement(Outcome.NOT_MET, "targets/not_met", targets.about, blanks)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})
