"""Who must be told: everybody, or those of a list of whom something is so, or may be."""

from dataclasses import dataclass

from compliance.rulebook.conditions import Condition, Verdict, always, read_condition
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Branch, Paths, Scope, branches, leaf_of
from compliance.rulebook.kind import Judgement, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, as_wording
from compliance.rulebook.sent import id_of
from compliance.rulebook.told import unknown
from compliance.rulebook.vocabulary import FactPath, read_path
from shared.folded import folded
from shared.wording import Wording

_PEOPLE = {"neighbour": "context.neighbours", "registered-person": "context.registered_persons"}


@dataclass(frozen=True)
class Recipient:
    """Somebody who must be told: what a sentence calls them, the name that a notice may carry, the member; `id`
    in the list; `unsure`: why it can't be told whether they must; `unknown`: for lack of members, so that it
    stays so even if somebody told them."""

    said: Wording
    name: str = ""
    about: Paths = ()
    unsure: Judgement | None = None
    unknown: bool = False
    id: str = ""


@dataclass(frozen=True)
class Perhaps:
    """Those of whom no record can show whether they must be told, and what it does not show."""

    whom: Condition
    because: Wording


@dataclass(frozen=True)
class Listed:
    """The persons of a list, chosen by a condition."""

    people: FactPath
    whom: Condition
    perhaps: Perhaps | None

    def choose(self, said: Wording, scope: Scope) -> tuple[list[Judgement], list[Recipient]]:
        """Those who must be told or may have to, or why nobody can be named."""
        people = self.people.items(scope)
        if people.absent:
            return [missing(people.lacks)], []
        chosen = []
        for number, person in enumerate(branches(people), 1):
            one, known = Wording(f"{said.en} {number}", f"{said.es} {number}"), id_of(person)
            within = scope.within(person)
            verdict = self.whom(within)
            if verdict.truth is None:
                lacks = verdict.lacks or verdict.about
                why = unknown(lacks, one)
                chosen.append(Recipient(one, name_of(person), (person.path,), why, unknown=True, id=known))
                continue
            doubt = None if verdict.truth else self._doubt(one, within)
            if verdict.truth or doubt:
                chosen.append(Recipient(one, name_of(person), (person.path,), doubt, id=known))
        return [], chosen

    def _doubt(self, said: Wording, scope: Scope) -> Judgement | None:
        """That a person may have to be told, if they may."""
        verdict = self.perhaps.whom(scope) if self.perhaps else Verdict(False)
        if verdict.truth is None:
            return unknown(verdict.lacks or verdict.about, said)
        if not verdict.truth or self.perhaps is None:
            return None
        blanks = {"whom": said, "because": self.perhaps.because}
        return Judgement(Outcome.CANT_TELL, "notice/perhaps", verdict.about, blanks)


def name_of(branch: Branch) -> str:
    """The name that a person or a notice carries, as names are compared; empty if it carries none."""
    name = leaf_of(branch, "name").value
    return folded(name) if isinstance(name, str) else ""


def read_listed(params: Params, to: tuple[str, ...]) -> Listed | None:
    """The list of those who must be told, where they are not all the same person."""
    named = [name for name in to if name in _PEOPLE]
    if not named:
        return None
    if len(to) > 1:
        raise RuleError("rule/alone", {"word": named[0]}, ("to",))
    people = read_path(_PEOPLE[named[0]], params.setting.roots, lists=True)
    roots = {**params.setting.roots, "item": people.term.item or people.term}

    def condition(part: Params) -> Condition:
        return part.value("whom", lambda raw: read_condition(part, raw, roots))

    def perhaps(raw: object) -> Perhaps:
        part = params.inner(raw)
        found = Perhaps(condition(part), part.value("because", as_wording))
        part.done()
        return found

    whom = condition(params) if params.has("whom") else always
    return Listed(people, whom, params.maybe("perhaps", perhaps))
