"""Kind `notice`: who is told, how long before or after, by which means, in which languages."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self

from compliance.rulebook.contents import Content, read_content
from compliance.rulebook.durations import said_language, said_moment
from compliance.rulebook.facts import Branch, Items, Scope, branches, leaf_of
from compliance.rulebook.handing_out import hand_out
from compliance.rulebook.kind import Judgement, Kind
from compliance.rulebook.notice_wordings import WORDINGS
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, as_text, as_yes_no, each, one_of
from compliance.rulebook.recipients import Listed, Recipient, read_listed
from compliance.rulebook.replaced import standing, standing_of_each
from compliance.rulebook.returned import returns_of
from compliance.rulebook.sent import NOTHING_SENT, Sent, id_of, sent_of
from compliance.rulebook.told import Terms, read_terms, unknown
from compliance.rulebook.vocabulary import FactPath, read_path, words_of
from shared.wording import Blank, Wording


@dataclass(frozen=True)
class Notice(Kind):
    """Judged for each person that must be told, the best notice of several; not met if none is on the record.

    Notices to neighbours and registered persons carry no name: those of which `sent` does not know whom they
    were for are given out in order, one to each. `contents` are for the printed notice; a record can't show
    what a notice said.
    """

    name = "notice"
    judges = ("document",)
    wordings = WORDINGS

    to: tuple[str, ...]
    said: Wording
    notices: FactPath
    listed: Listed | None
    follow_ups: FactPath
    sent: FactPath
    terms: Terms
    languages: tuple[str, ...]
    on_request: bool
    contents: tuple[Content, ...]

    @classmethod
    def read(cls, params: Params) -> Self:
        notices = read_path("notices", params.setting.roots, lists=True)
        to = params.value("to", each(one_of(words_of(notices, "to"))))
        return cls(
            to,
            _said_recipients([words_of(notices, "to")[name] for name in to]),
            notices,
            read_listed(params, to),
            read_path("context.follow_ups", params.setting.roots, lists=True),
            read_path("context.sent_notices", params.setting.roots, lists=True),
            read_terms(params, words_of(notices, "means")),
            params.maybe("languages", each(as_text)) or (),
            params.maybe("on_request", as_yes_no) or False,
            params.maybe("contents", each(lambda raw: read_content(params, raw))) or (),
        )

    def judge_each(self, scope: Scope) -> tuple[Judgement, ...]:
        unsure, recipients = self.recipients(scope)
        notices = self.notices.items(scope)
        if notices.absent:
            asked = (one.unsure or unknown((*notices.lacks, *one.about), one.said) for one in recipients)
            return (*unsure, *asked)
        in_each = [self._given_out(one, notices, recipients, scope) for one in self.languages or ("",)]
        worst = [min(several, key=_rank) for several in zip(*in_each, strict=True)]
        about = self.listed.people.items(scope).about if self.listed else ()
        nobody = Judgement(Outcome.NOT_APPLICABLE, "notice/nobody", about)
        return (*unsure, *worst) or (nobody,)

    def possible(self) -> frozenset[Outcome]:
        judged = frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})
        may_not = self.listed or self.on_request or self.terms.lead.form == "after"
        return judged | {Outcome.NOT_APPLICABLE} if may_not else judged

    def recipients(self, scope: Scope) -> tuple[list[Judgement], list[Recipient]]:
        """Who must be told or may have to be; first, why nobody can be named."""
        return self.listed.choose(self.said, scope) if self.listed else ([], [Recipient(self.said)])

    def served(self, notices: Sequence[Branch], said: Wording, scope: Scope) -> Judgement | None:
        """How well these notices told one person, in the worst told language; None: none was for them."""
        if not any(self._fits(notice, one) for notice in notices for one in self.languages or ("",)):
            return None
        judged, told = [], standing if self.listed else standing_of_each
        notices = told(notices, scope)
        for one in self.languages or ("",):
            fitting = [
                self._judge(notice, one, said, scope, NOTHING_SENT)
                for notice in notices
                if self._fits(notice, one)
            ]
            none = self._none(one, Recipient(said), self.notices.items(scope), scope)
            judged.append(max(fitting, key=_rank, default=none))
        return min(judged, key=_rank)

    def _given_out(
        self, language: str, notices: Items, recipients: list[Recipient], scope: Scope
    ) -> list[Judgement]:
        """How well each was told in this language."""
        sent = sent_of(self.sent, scope)
        every = [one for one in branches(notices) if id_of(one) not in sent.lost]
        returns = returns_of(self.follow_ups, scope)

        def judge(notice: Branch, said: Wording) -> Judgement:
            judged = self._judge(notice, language, said, scope, sent)
            doubt = returns.doubt(notice, every, said, scope) if judged.outcome is Outcome.MET else None
            return doubt or judged

        standing_now = every if self.listed else standing_of_each(every, scope)
        fitting = [one for one in standing_now if self._fits(one, language)]
        return hand_out(
            fitting,
            recipients,
            judge,
            lambda one: self._none(language, one, notices, scope),
            sent.is_for,
            lambda own: standing(own, scope),
        )

    def _fits(self, notice: Branch, language: str) -> bool:
        stated = leaf_of(notice, "language").value
        spoken = stated.partition("-")[0] if isinstance(stated, str) else None
        return leaf_of(notice, "to").value in self.to and (not language or spoken in (None, language))

    def _judge(
        self, notice: Branch, language: str, said: Wording, scope: Scope, sent: Sent
    ) -> Judgement:
        judged = self.terms.judge(notice, said, scope)
        if judged.outcome is Outcome.MET and sent.said_otherwise(notice):
            return judged.but(outcome=Outcome.CANT_TELL, wording="notice/otherwise")
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
    return judgement.outcome.rank


def _in_language(said: Wording, language: str) -> Wording:
    if not language:
        return said
    name = said_language(language)
    return Wording(f"{said.en} ({name.en})", f"{said.es} ({name.es})")


def _said_recipients(words: list[Wording]) -> Wording:
    en, es = " or ".join(word.en for word in words), " o ".join(word.es for word in words)
    return Wording(f"{en[:1].upper()}{en[1:]}", f"{es[:1].upper()}{es[1:]}")
