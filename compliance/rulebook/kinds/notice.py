"""Kind `notice`: who is told, how long before or after, by which means, in which languages."""

from dataclasses import dataclass, replace
from typing import Self

from compliance.rulebook.conditions import Condition, always, read_condition
from compliance.rulebook.durations import said_language, said_moment
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Branch, Items, Paths, Scope, branches, leaf_of
from compliance.rulebook.kind import Judgement, Kind, missing
from compliance.rulebook.notice_wordings import WORDINGS
from compliance.rulebook.outcome import RANK, Outcome
from compliance.rulebook.reading import Params, as_text, as_wording, as_yes_no, each, one_of
from compliance.rulebook.told import Terms, read_terms, unknown
from compliance.rulebook.vocabulary import FactPath, read_path, words_of
from shared.folded import folded
from shared.wording import Blank, Wording

_PEOPLE = {"neighbour": "context.neighbours", "registered-person": "context.registered_persons"}


@dataclass(frozen=True)
class Recipient:
    """Somebody who must be told: what a sentence calls them, the name that a notice may carry, the member."""

    said: Wording
    name: str
    about: Paths


@dataclass(frozen=True)
class Notice(Kind):
    """Judged for each person that must be told, the best notice of several; not met if none is on the record.

    Notices to neighbours and registered persons carry no name: those that don't are given out in order, one
    to each. `contents` are for the printed notice; a record can't show what a notice said.
    """

    name = "notice"
    judges = ("document",)
    wordings = WORDINGS

    to: tuple[str, ...]
    said: Wording
    notices: FactPath
    people: FactPath | None
    whom: Condition
    terms: Terms
    languages: tuple[str, ...]
    on_request: bool
    contents: tuple[Wording, ...]

    @classmethod
    def read(cls, params: Params) -> Self:
        notices = read_path("notices", params.setting.roots, lists=True)
        to = params.value("to", each(one_of(words_of(notices, "to"))))
        people = _read_people(params, to)
        whom: Condition = always
        if people and people.term.item and params.has("whom"):
            roots = {**params.setting.roots, "item": people.term.item}
            whom = params.value("whom", lambda raw: read_condition(params, raw, roots))
        return cls(
            to,
            _said_recipients([words_of(notices, "to")[name] for name in to]),
            notices,
            people,
            whom,
            read_terms(params, words_of(notices, "means")),
            params.maybe("languages", each(as_text)) or (),
            params.maybe("on_request", as_yes_no) or False,
            params.maybe("contents", each(as_wording)) or (),
        )

    def judge_each(self, scope: Scope) -> tuple[Judgement, ...]:
        unsure, recipients = self._recipients(scope)
        notices = self.notices.items(scope)
        if notices.absent:
            return (*unsure, *(unknown((*notices.lacks, *one.about), one.said) for one in recipients))
        in_each = [self._given_out(one, notices, recipients, scope) for one in self.languages or ("",)]
        worst = [min(several, key=_rank) for several in zip(*in_each, strict=True)]
        nobody = Judgement(
            Outcome.NOT_APPLICABLE, "notice/nobody", self.people.items(scope).about if self.people else ()
        )
        return (*unsure, *worst) or (nobody,)

    def possible(self) -> frozenset[Outcome]:
        judged = frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})
        may_not = self.people or self.on_request or self.terms.lead.form == "after"
        return judged | {Outcome.NOT_APPLICABLE} if may_not else judged

    def _recipients(self, scope: Scope) -> tuple[list[Judgement], list[Recipient]]:
        """Those who must be told, and what can't be told about who else must."""
        if self.people is None:
            return [], [Recipient(self.said, "", ())]
        people = self.people.items(scope)
        if people.absent:
            return [missing(people.lacks)], []
        unsure, chosen = [], []
        for number, person in enumerate(branches(people), 1):
            said = Wording(f"{self.said.en} {number}", f"{self.said.es} {number}")
            verdict = self.whom(scope.within(person))
            if verdict.truth is None:
                unsure.append(unknown(verdict.lacks or verdict.about, said))
            elif verdict.truth:
                chosen.append(Recipient(said, _name(person), (person.path,)))
        return unsure, chosen

    def _given_out(
        self, language: str, notices: Items, recipients: list[Recipient], scope: Scope
    ) -> list[Judgement]:
        """For each recipient the best notice that bears their name, else the next best without a name."""
        fitting = [one for one in branches(notices) if self._fits(one, language)]
        free = [one for one in fitting if self.people is None or not _name(one)]
        free.sort(key=lambda one: _rank(self._judge(one, language, self.said, scope)), reverse=True)
        given = []
        for recipient in recipients:
            own = [one for one in fitting if recipient.name and _name(one) == recipient.name]
            chosen, free = (own, free) if own else (free[:1], free[1:])
            judged = [self._judge(one, language, recipient.said, scope) for one in chosen]
            best = max(judged, key=_rank) if judged else self._none(language, recipient, notices, scope)
            given.append(replace(best, about=(*best.about, *recipient.about)))
        return given

    def _fits(self, notice: Branch, language: str) -> bool:
        stated = leaf_of(notice, "language").value
        return leaf_of(notice, "to").value in self.to and (not language or stated in (None, language))

    def _judge(self, notice: Branch, language: str, said: Wording, scope: Scope) -> Judgement:
        judged = self.terms.judge(notice, said, scope)
        stated = leaf_of(notice, "language")
        if language and stated.value is None and judged.outcome is not Outcome.NOT_MET:
            return unknown(stated.lacks, said)
        return judged

    def _none(self, language: str, recipient: Recipient, notices: Items, scope: Scope) -> Judgement:
        """No notice is on the record: not met, unless it is due to those who ask, or not yet."""
        blanks: dict[str, Blank] = {"whom": _in_language(recipient.said, language), "asked": self.terms.lead}
        if self.on_request:
            return Judgement(Outcome.NOT_APPLICABLE, "notice/not_asked", notices.about, blanks)
        due, lacks = self.terms.lead.due(scope)
        if due is None:
            if self.terms.lead.form == "after":
                return unknown(lacks, recipient.said)
            return Judgement(Outcome.NOT_MET, "notice/none_undated", notices.about, blanks, absence=True)
        blanks["due"] = said_moment(due)
        if self.terms.lead.form == "after":
            if scope.facts.on is None:
                return unknown((*notices.about, "context.on"), recipient.said)
            if scope.facts.on <= due.date():
                return Judgement(Outcome.NOT_APPLICABLE, "notice/not_yet_due", notices.about, blanks, due=due)
        return Judgement(
            Outcome.NOT_MET,
            "notice/none",
            notices.about,
            blanks,
            bound=due.isoformat(),
            due=due,
            absence=True,
        )


def _rank(judgement: Judgement) -> int:
    return RANK[judgement.outcome]


def _in_language(said: Wording, language: str) -> Wording:
    if not language:
        return said
    name = said_language(language)
    return Wording(f"{said.en} ({name.en})", f"{said.es} ({name.es})")


def _said_recipients(words: list[Wording]) -> Wording:
    en, es = " or ".join(word.en for word in words), " o ".join(word.es for word in words)
    return Wording(f"{en[:1].upper()}{en[1:]}", f"{es[:1].upper()}{es[1:]}")


def _name(branch: Branch) -> str:
    name = leaf_of(branch, "name").value
    return folded(name) if isinstance(name, str) else ""


def _read_people(params: Params, to: tuple[str, ...]) -> FactPath | None:
    """The list of those who must be told, where they are not all the same person."""
    listed = [name for name in to if name in _PEOPLE]
    if not listed:
        return None
    if len(to) > 1:
        raise RuleError("rule/alone", {"word": listed[0]}, ("to",))
    return read_path(_PEOPLE[listed[0]], params.setting.roots, lists=True)
