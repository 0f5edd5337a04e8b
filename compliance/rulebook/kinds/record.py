"""Kind `record`: these members must be on the record."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Self

from compliance.rulebook.conditions import Condition, Verdict, is_present, read_condition
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Items, Leaf, Node, Paths, Scope
from compliance.rulebook.kind import Judgement, Kind, Listed, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, as_wording, each
from compliance.rulebook.vocabulary import FactPath, Term, node_about
from shared.values import value
from shared.wording import Sayable, Wording

_MEET = Wording("Mend the amounts so that they go together.", "Corrija las cantidades para que casen.")


@value
class Gap:
    """What an ask does not find: members that are not there, or (`unsure`) that it can't tell about.

    `why`: it can't be worked out from members that are there.
    """

    paths: Paths
    unsure: bool = False
    why: Sayable | None = None


@dataclass(frozen=True)
class Explained:
    """What is asked for, and why it can't be worked out."""

    words: Wording
    why: Sayable

    def say(self, language: str) -> str:
        """`the total product applied (20 lb and 15 gal cannot be set against each other)`."""
        return f"{self.words.say(language)} ({self.why.say(language)})"


@dataclass(frozen=True)
class Ask:
    """One thing that the record must state: any or all of some paths, once or for the items of a list."""

    words: Wording
    paths: tuple[FactPath, ...]
    any_will_do: bool
    over: FactPath | None
    every: bool
    exempt: Condition | None
    only: Condition | None

    def gap(self, scope: Scope) -> tuple[Gap | None, Paths]:
        """What is missing (None if nothing is), and the members that state what is asked for."""
        if self.over:
            items = self.over.items(scope)
            return self._over_items(items, scope), items.about
        absent, about = self._looked_up(scope)
        return self._without(absent, scope) if absent else None, about

    def _over_items(self, items: Items, scope: Scope) -> Gap | None:
        if not items.items:
            known = items.absent or not items.lacks
            return self._of_no_item(scope, Gap(items.about) if known else Gap(items.lacks, unsure=True))
        gaps = [self._once(scope.within(item)) for item in items.items]
        found = [gap for gap in gaps if gap]
        if not self.every and len(found) < len(gaps):
            return None
        for gap in found:
            if not gap.unsure:
                return gap
        if items.lacks:
            return Gap(items.lacks, unsure=True)
        return found[0] if found else None

    def _once(self, scope: Scope) -> Gap | None:
        absent, _ = self._looked_up(scope)
        return self._without(absent, scope) if absent else None

    def _looked_up(self, scope: Scope) -> tuple[list[Node], Paths]:
        """What is not there, and the members that state the paths."""
        absent: list[Node] = []
        about: Paths = ()
        for path in self.paths:
            node = path.look(scope)
            about += node_about(node)
            if not is_present(node):
                absent.append(node)
        return absent, about

    def _without(self, absent: list[Node], scope: Scope) -> Gap | None:
        if self.any_will_do and len(absent) < len(self.paths):
            return None
        wanted = self.only(scope) if self.only else None
        if (wanted and wanted.truth is False) or (self.exempt and self.exempt(scope).truth is True):
            return None
        if wanted and wanted.truth is None:
            return Gap(wanted.lacks, unsure=True, why=wanted.why)
        named = absent[:1] if self.any_will_do else absent
        why = next((node.why for node in named if isinstance(node, Leaf) and node.why), None)
        return Gap(tuple(path for node in named for path in _lacks(node)), why=why)

    def _of_no_item(self, scope: Scope, gap: Gap) -> Gap | None:
        """The gap of a list without items, which may be let be for a reason that does not lie in an item."""
        exempt, wanted = (part(scope) if part else Verdict(None) for part in (self.exempt, self.only))
        if exempt.truth is True and not _of_an_item(exempt):
            return None
        if not self.only or wanted.truth is True or _of_an_item(wanted):
            return gap
        return None if wanted.truth is False else Gap(wanted.lacks, unsure=True, why=wanted.why)


@dataclass(frozen=True)
class Record(Kind):
    """Not met by absence; can't tell only where it is unknown whether something is asked for."""

    name = "record"
    wordings = {
        "record/met": Wording("The record states what is asked for.", "El registro contiene lo que se pide."),
        "record/not_met": Wording(
            "The record does not state: {asked}. {mend}", "El registro no indica: {asked}. {mend}"
        ),
    }

    asks: tuple[Ask, ...]

    @classmethod
    def read(cls, params: Params) -> Self:
        return cls(params.value("asks", each(lambda raw: _read_ask(params.inner(raw)))))

    def judge(self, scope: Scope) -> Judgement:
        gaps: list[tuple[Ask, Gap]] = []
        stated: list[str] = []
        for ask in self.asks:
            gap, about = ask.gap(scope)
            stated += about
            if gap:
                gaps.append((ask, gap))
        if not gaps:
            return Judgement(Outcome.MET, "record/met", tuple(dict.fromkeys(stated)))
        absent = [(ask, gap) for ask, gap in gaps if not gap.unsure]
        paths = tuple(dict.fromkeys(path for _, gap in absent or gaps for path in gap.paths))
        if absent:
            asked = Listed(tuple(_said(ask, gap) for ask, gap in absent))
            mend = _MEET if any(gap.why for _, gap in absent) else None
            return Judgement(
                Outcome.NOT_MET, "record/not_met", paths, {"asked": asked}, absence=True, mend=mend
            )
        return missing(paths, why=next((gap.why for _, gap in gaps if gap.why), None))

    def judge_nothing(self, lacks: Paths) -> Judgement:
        asked = Listed(tuple(ask.words for ask in self.asks))
        return Judgement(Outcome.NOT_MET, "record/not_met", lacks, {"asked": asked}, absence=True)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET})


def _said(ask: Ask, gap: Gap) -> Sayable:
    return Explained(ask.words, gap.why) if gap.why else ask.words


def _of_an_item(verdict: Verdict) -> bool:
    """Whether what decided lies in an item of a list that has none."""
    return any(path == "item" or path.startswith("item.") for path in verdict.about)


def _lacks(node: Node) -> Paths:
    return (node.lacks if isinstance(node, Leaf) else ()) or node_about(node)


def _read_ask(part: Params) -> Ask:
    words = part.value("words", as_wording)
    over, roots, every = _read_list(part)
    form = part.which("path", "one_of", "all_of")

    def read(raw: object) -> FactPath:
        return part.path(raw, lists=True, roots=roots)

    paths = (part.value(form, read),) if form == "path" else part.value(form, each(read))
    exempt = part.maybe("unless", lambda raw: read_condition(part, raw, roots))
    only = part.maybe("only", lambda raw: read_condition(part, raw, roots))
    part.done()
    return Ask(words, paths, form == "one_of", over, every, exempt, only)


def _read_list(part: Params) -> tuple[FactPath | None, Mapping[str, Term], bool]:
    roots = part.setting.roots
    if not (part.has("every") or part.has("some")):
        return None, roots, True
    form = part.which("every", "some")
    path = part.value(form, lambda raw: part.path(raw, lists=True))
    if path.term.item is None:
        raise RuleError("rule/not_a_list", {"path": path.text}, (form,))
    return path, {**roots, "item": path.term.item}, form == "every"
