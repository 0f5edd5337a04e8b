"""The duties of a planned treatment, read through the rules that hold at its site. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from compliance.facts_reader import VOCABULARY, read_facts
from compliance.notices.duty import Addressee, Duty, Later, Signs
from compliance.notices.holds import RuleHolds
from compliance.rulebook.evaluate import Asked, asked
from compliance.rulebook.facts import Facts
from compliance.rulebook.finding import Finding
from compliance.rulebook.kind import Judgement
from compliance.rulebook.kinds.deadline import Deadline
from compliance.rulebook.kinds.notice import Notice
from compliance.rulebook.kinds.posting import Posting
from compliance.rulebook.kinds.report import Report
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.pack import Pack
from compliance.rulebook.places import covering
from compliance.rulebook.recipients import Recipient
from records.document.context import Context
from records.document.types import Timing, TreatmentDocument
from shared.wording import Sayable, Wording

_WHEN = {"ahead": "before", "before": "before", "meanwhile": "during", "after": "after"}
_NOBODY = Wording("Nobody is near enough to be told.", "No hay nadie lo bastante cerca a quien avisar.")


@dataclass(frozen=True)
class Duties:
    """All of one treatment, in the order of the rules' ids; those that do not apply as well."""

    notices: tuple[Duty, ...]
    signs: tuple[Signs, ...]
    later: tuple[Later, ...]
    facts: Facts


def duties_of(document: TreatmentDocument, context: Context, packs: Sequence[Pack]) -> Duties:
    """What the packs that cover the site ask of a treatment. `packs`: all that may apply, the firm's too."""
    facts = read_facts(document, context)
    laws = [pack for pack in packs if pack.layer == "firm"]
    laws = [*covering([one for one in packs if one not in laws], facts.places or (), facts.day), *laws]
    kinds = (Notice.name, Posting.name, Deadline.name, Report.name)
    found = [(one, one.standing.kind) for one in asked(laws, facts, VOCABULARY, kinds)]
    return Duties(
        tuple(_notice(one, kind) for one, kind in found if isinstance(kind, Notice)),
        tuple(_signs(one, kind) for one, kind in found if isinstance(kind, Posting)),
        tuple(later for one, kind in found for later in _later(one, kind)),
        facts,
    )


def planned_for(document: TreatmentDocument, start: datetime) -> TreatmentDocument:
    """The same treatment as it would be planned for another start, nothing of it done yet."""
    timing = Timing(planned_at=start.isoformat())
    record = document.record.model_copy(update={"result": None, "why": None})
    return document.model_copy(update={"timing": timing, "record": record})


def _notice(one: Asked, kind: Notice) -> Duty:
    ground = _ground(one)
    addressees: tuple[Addressee, ...] = ()
    lead = kind.terms.lead
    scope = one.scope
    if ground["applies"]:
        unsure, recipients = kind.recipients(scope)
        addressees = tuple(_addressee(each, kind, one) for each in recipients)
        if unsure:
            ground |= {"applies": None, "why": _said(one, unsure[0]), "lacks": unsure[0].about}
        elif not addressees:
            ground |= {"applies": False, "why": _NOBODY}
    return Duty(
        **ground,
        addressees=addressees,
        when=_WHEN[lead.form],
        latest=lead.latest(scope),
        lead=lead,
        means=kind.terms.means,
        languages=kind.languages,
        on_request=kind.on_request,
        contents=kind.contents,
        alternates=kind.terms.days.alternates or 0,
        all_alternates=kind.terms.days.all_of_them,
        holds=RuleHolds(kind, one.standing.basis, scope),
    )


def _addressee(recipient: Recipient, kind: Notice, one: Asked) -> Addressee:
    doubt = _said(one, recipient.unsure) if recipient.unsure else None
    number = int(recipient.about[0].rpartition("[")[2].rstrip("]")) if recipient.about else None
    return Addressee(kind.to[0], number, doubt, kind.to[1:])


def _signs(one: Asked, kind: Posting) -> Signs:
    return Signs(
        **_ground(one),
        when=_WHEN[kind.lead.form],
        latest=kind.lead.latest(one.scope),
        lead=kind.lead,
        least=kind.least,
        where=kind.place,
        spacing=kind.spacing,
        size=kind.size,
        until=kind.stands_until(one.scope),
        kind=kind,
    )


def _later(one: Asked, kind: Any) -> Iterator[Later]:
    """What is handed out or reported; by when a record is made is for the record."""
    if isinstance(kind, Deadline) and kind.follow_up:
        yield Later(**_ground(one), what=kind.follow_up, due=kind.due_by(one.scope), to=None)
    if isinstance(kind, Report):
        yield Later(**_ground(one), what="report", due=kind.judge(one.scope).due, to=kind.to)


def _ground(one: Asked) -> dict[str, Any]:
    basis, barrier = one.standing.basis, one.barrier
    unknown = barrier is not None and barrier.outcome is Outcome.CANT_TELL
    return {
        "rule": basis.rule,
        "title": basis.title,
        "cite": basis.cite,
        "source": one.standing.rule.source,
        "level": "advised" if barrier and barrier.wording == "question/open" else basis.level,
        "doubt": basis.doubt,
        "applies": None if unknown else barrier is None,
        "why": _said(one, barrier) if barrier else None,
        "lacks": barrier.about if barrier and unknown else (),
    }


def _said(one: Asked, judgement: Judgement) -> Sayable:
    return Finding(one.standing.basis, judgement, one.standing.basis.level, VOCABULARY).message
