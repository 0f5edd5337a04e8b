"""Take a request for records in, say by when its answer is due, close it."""

from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.db import transaction

from compliance.models import RecordsRequest
from compliance.rulebook.answer_times import AnswerTime
from compliance.rulebook.pack import Pack
from compliance.rulebook.reminders import Reminder
from compliance.selectors import packs_for
from compliance.services.kept_once import kept_once
from records.models import AuditEntry, Firm, User
from records.permissions import demand
from records.services.audit import change, note
from shared import clock
from shared.public_holidays import is_holiday

ACCESS = "access"
"""The topic of what a pack says about who may ask for records."""


@dataclass(frozen=True)
class AnswerDuty:
    """A paragraph under which records may be asked for."""

    pack: Pack
    reminder: Reminder

    @property
    def key(self) -> str:
        return f"{self.pack.id}: {self.reminder.cite}"

    def time_for(self, asker: str) -> AnswerTime | None:
        """By when it asks that this one is answered; None where it names no time."""
        return next((time for time in self.reminder.answered if asker in time.by), None)


def answer_duties(firm: Firm, day: date) -> list[AnswerDuty]:
    """What the packs in force where the firm works say of who may ask for records."""
    packs = packs_for(firm, day).in_force
    return [AnswerDuty(pack, each) for pack in packs for each in pack.reminders if ACCESS in each.covers]


@dataclass(frozen=True)
class ClockOf:
    """The clock of a firm, by which days run, and the public holidays of a calendar."""

    firm: Firm

    def local(self, moment: datetime) -> datetime:
        zone = ZoneInfo(self.firm.time_zone)
        return moment.astimezone(zone) if moment.tzinfo else moment.replace(tzinfo=zone)

    def is_holiday(self, calendar: str, day: date) -> bool:
        return is_holiday(calendar, day)


@dataclass(frozen=True)
class TimeSet:
    """A time to answer, and the paragraph that sets it; `assumed` where they did not ask under it. Without a
    paragraph nobody sets it, and somebody is being treated."""

    time: AnswerTime
    duty: AnswerDuty | None
    assumed: bool = False


AT_ONCE = AnswerTime((RecordsRequest.Asker.MEDICAL,), at_once=True, within=None)


def time_set(firm: Firm, duty: str, asker: str, received: datetime) -> TimeSet | None:
    """By when it is to be answered, as the packs have it on the day it came. Who treats a person waits for no
    paragraph: where the one that was chosen sets them no time, the soonest that is in force is assumed."""
    on_clock = ClockOf(firm)
    duties = answer_duties(firm, on_clock.local(received).date())
    set_by = [TimeSet(time, each) for each in duties if (time := each.time_for(asker))]
    chosen = next((each for each in set_by if each.duty and each.duty.key == duty), None)
    if chosen or asker != RecordsRequest.Asker.MEDICAL:
        return chosen
    soonest = min(set_by, key=lambda each: each.time.due(received, on_clock), default=TimeSet(AT_ONCE, None))
    return replace(soonest, assumed=True)


def time_of(request: RecordsRequest) -> TimeSet | None:
    return time_set(request.firm, request.duty, request.asked_by, request.received_at)


@transaction.atomic
def take_request(firm: Firm, by: User, given: dict[str, Any], duty: AnswerDuty | None) -> RecordsRequest:
    """Keep it, once for each `uuid` of what is given. A time that they set counts where it is sooner than the
    rule's. Raises PermissionDenied."""
    demand(by, "records.hand_over", firm)
    typed = given.pop("due_at", None)
    made = RecordsRequest(firm=firm, handled_by=by, duty=duty.key if duty else "", **given)
    _set_time(made, typed)
    made, is_new = kept_once(made)
    if is_new:
        note(AuditEntry.Kind.CREATED, made, firm=firm, by=by, changes=[change("wanted", None, made.wanted)])
    return made


APART = ("name", "contact", "reference", "asked_for")
"""What may say something of a person: that it was changed is kept, and not to what."""


@transaction.atomic
def mend_request(request: RecordsRequest, by: User, given: dict[str, Any]) -> None:
    """Put right what was taken in, or give it to somebody else; what is searched for stays.

    In what is given, `duty` is the key of one and `due_at` what they set. Raises PermissionDenied.
    """
    demand(by, "records.hand_over", request)
    fields = {
        field.name: field for field in RecordsRequest._meta.fields if field.name not in ("uuid", "wanted")
    }
    before = {name: field.value_to_string(request) for name, field in fields.items()}
    typed = given.pop("due_at", request.they_set)
    for name, value in given.items():
        setattr(request, name, value)
    _set_time(request, typed)
    after = {name: field.value_to_string(request) for name, field in fields.items()}
    changed = [name for name in fields if before[name] != after[name]]
    if not changed:
        return
    request.save(update_fields=changed)
    values = ((None, None) if name in APART else (before[name], after[name]) for name in changed)
    changes = [change(name, *two) for name, two in zip(changed, values, strict=True)]
    note(AuditEntry.Kind.CHANGED, request, firm=request.firm, by=by, changes=changes)


def _set_time(request: RecordsRequest, typed: datetime | None) -> None:
    """By when it is due, and by whose word: what they set where that is sooner than the rule's."""
    found, of = time_of(request), RecordsRequest.DueFrom
    ruled = found.time.due(request.received_at, ClockOf(request.firm)) if found else None
    request.they_set, request.due_from = typed, ""
    request.due_at = min((at for at in (typed, ruled) if at), default=None)
    if request.due_at is not None:
        is_ruled = found is not None and request.due_at == ruled
        request.due_from = of.TYPED if not (found and is_ruled) else of.ASSUMED if found.assumed else of.RULE


@transaction.atomic
def close_request(request: RecordsRequest, by: User, why: str) -> None:
    """It needs nothing any more; what was handed over stays with it. Raises PermissionDenied."""
    demand(by, "records.hand_over", request)
    request.closed_at, request.closed_why = clock.now(), why
    request.save(update_fields=["closed_at", "closed_why"])
    changes = [change("closed_at", None, request.closed_at.isoformat())]
    note(AuditEntry.Kind.CHANGED, request, firm=request.firm, by=by, changes=changes, reason=why)
