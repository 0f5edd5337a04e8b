"""The check of one treatment document: which packs apply, what they say, and what was not checked. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from compliance.determinations import Determined, determined
from compliance.facts_reader import VOCABULARY, read_facts
from compliance.label_pack import label_packs
from compliance.nobody_sprayed import nobody_sprayed
from compliance.pack_reader import registered_packs
from compliance.places import county_not_named, open_places
from compliance.rulebook.evaluate import judge
from compliance.rulebook.facts import Facts
from compliance.rulebook.finding import Finding, in_all_languages
from compliance.rulebook.layers import unlawful
from compliance.rulebook.limits import LimitInForce, limits_in_force, strictest_of
from compliance.rulebook.ordering import in_order
from compliance.rulebook.outcome import Outcome, worst
from compliance.rulebook.pack import Pack, Question
from compliance.rulebook.places import covering, is_wide, not_covered
from compliance.rulebook.wordings import Sentence
from records.document.canonical import digest_of
from records.document.context import Context
from records.document.types import TreatmentDocument
from shared.wording import Sayable

ENGINE = "1"
Json = dict[str, Any]


@dataclass(frozen=True)
class Check:
    """What the rules say of one document on one day; never an approval."""

    document: str
    context: str
    on: date | None
    packs: tuple[Pack, ...]
    not_covered: tuple[str, ...]
    not_checked: tuple[Sayable, ...]
    questions: tuple[Question, ...]
    determinations: tuple[Determined, ...]
    findings: tuple[Finding, ...]
    limits: tuple[LimitInForce, ...]
    outcome: Outcome

    def hangs_on(self, finding: Finding) -> list[Determined]:
        """The firm's own answers to open questions that a finding's rule reads."""
        return [one for one in self.determinations if finding.rule in one.rules]

    def to_json(self, language: str) -> Json:
        """The check as the command prints it."""
        return {
            "document": self.document,
            "packs": [
                {"pack": pack.id, "version": pack.version, "digest": pack.digest} for pack in self.packs
            ],
            "not_covered": list(self.not_covered),
            "not_checked": [said.say(language) for said in self.not_checked],
            "findings": [finding.as_json(language) for finding in self.findings],
            "limits": [limit.as_json() for limit in self.limits],
            "outcome": str(self.outcome),
        }

    def stored(self) -> Json:
        """The check as it is kept, `stored-check/1`: papers print it without the engine."""
        return {
            "schema": "stored-check/1",
            "document": self.document,
            "context": self.context,
            "on": self.on.isoformat() if self.on else None,
            "engine": ENGINE,
            "packs": [_stored_pack(pack) for pack in self.packs],
            "not_covered": list(self.not_covered),
            "not_checked": [in_all_languages(said) for said in self.not_checked],
            "questions": [
                {
                    "id": question.id,
                    "asks": in_all_languages(question.asks),
                    "ask_whom": in_all_languages(question.ask_whom),
                }
                for question in self.questions
            ],
            "determinations": [determination.stored() for determination in self.determinations],
            "findings": [
                {**finding.stored(), "hangs_on": [in_all_languages(one) for one in self.hangs_on(finding)]}
                for finding in self.findings
            ],
            "limits": [limit.as_json() for limit in self.limits],
            "outcome": str(self.outcome),
        }


def check_document(
    document: TreatmentDocument,
    context: Context,
    on: date | None = None,
    packs: Sequence[Pack] | None = None,
    firm_policy: Pack | None = None,
) -> Check:
    """Check a document with its context; `on` outranks the context's day of the check.

    `packs`: those that may apply (all registered ones if None). A firm's policy that a later law has made the
    looser one changes nothing: the strictest holds (`refuse_loosening` keeps such a policy from being made).
    """
    known = registered_packs() if packs is None else tuple(packs)
    facts = read_facts(document, context, on)
    laws = covering(known, facts.places or (), facts.day)
    layers = [*laws, *label_packs(document), *([firm_policy] if firm_policy else [])]
    judged = judge(layers, facts, VOCABULARY)
    strictest = strictest_of(judged)
    of_all = [*unlawful(strictest, VOCABULARY), *open_places(document), *nobody_sprayed(document, facts.stage)]
    findings = in_order([*judged.findings, *of_all]) if of_all else judged.findings
    missing = tuple(not_covered(facts.places or (), laws))
    return Check(
        document=digest_of(document),
        context=digest_of(context),
        on=facts.on,
        packs=(*laws, *([firm_policy] if firm_policy else [])),
        not_covered=missing,
        not_checked=(*county_not_named(document), *_not_checked(laws, missing, known, facts.day)),
        questions=_open_questions(laws, facts),
        determinations=determined(laws, context, facts.day),
        findings=tuple(findings),
        limits=tuple(limits_in_force(strictest)),
        outcome=_outcome(findings, missing),
    )


def _outcome(findings: Sequence[Finding], missing: Sequence[str]) -> Outcome:
    """Over the required findings; no better than can't tell where a country's or state's law is missing."""
    outcomes = [finding.outcome for finding in findings if finding.level == "required"]
    if any(is_wide(place) for place in missing):
        outcomes.append(Outcome.CANT_TELL)
    return worst(outcomes)


def _not_checked(
    laws: Sequence[Pack], missing: Sequence[str], known: Sequence[Pack], day: date | None
) -> tuple[Sayable, ...]:
    begun = {pack.place for pack in laws}
    later = [pack for pack in known if day and pack.span.start and day < pack.span.start]
    places = [Sentence("in_part", {"place": one}) if one in begun else _no_pack(one, later) for one in missing]
    left_out = [said for pack in laws for said in pack.leaves_out]
    reminders = [
        Sentence("reminder", {"says": reminder.says, "cite": reminder.cite})
        for pack in laws
        for reminder in pack.reminders
    ]
    return (*places, *left_out, *reminders)


def _no_pack(place: str, later: Sequence[Pack]) -> Sentence:
    """That no pack covers the place; with the first day of one that does so later."""
    first = min((pack.span.start for pack in later if pack.place == place and pack.span.start), default=None)
    if first is None:
        return Sentence("no_pack", {"place": place})
    return Sentence("no_pack_then", {"place": place, "day": first.isoformat()})


def _open_questions(laws: Sequence[Pack], facts: Facts) -> tuple[Question, ...]:
    questions = [question for pack in laws for question in pack.questions.values()]
    return tuple(question for question in questions if facts.answer_to(question.id) not in question.answers)


def _stored_pack(pack: Pack) -> Json:
    reviewed = {"on": pack.reviewed_on.isoformat(), "by_means": pack.by_means} if pack.reviewed_on else None
    return {
        "pack": pack.id,
        "version": pack.version,
        "digest": pack.digest,
        "title": in_all_languages(pack.title),
        "caution": in_all_languages(pack.caution),
        "reviewed": reviewed,
    }
