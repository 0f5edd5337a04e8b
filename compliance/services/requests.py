"""Take a request for records in, say by when its answer is due, close it."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.db import transaction

from compliance.models import RecordsRequest
from compliance.rulebook.answer_times import AnswerTime
from compliance.rulebook.pack import Pack
from compliance.rulebook.reminders import Reminder
from compliance.selectors import packs_for
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


def time_of(request: RecordsRequest) -> AnswerTime | None:
    """What the paragraph under which they ask says of its time, as the packs have it on the day it came."""
    day = request.received_at.astimezone(ZoneInfo(request.firm.time_zone)).date()
    duty = next((each for each in answer_duties(request.firm, day) if each.key == request.duty), None)
    return duty.time_for(request.asked_by) if duty else None


def due_of(firm: Firm, duty: AnswerDuty | None, asker: str, received: datetime) -> datetime | None:
    time = duty.time_for(asker) if duty else None
    return time.due(received, ClockOf(firm)) if time else None


@transaction.atomic
def take_request(firm: Firm, by: User, given: dict[str, Any], duty: AnswerDuty | None) -> RecordsRequest:
    """Keep it. A time that they set counts where it is sooner than the rule's. Raises PermissionDenied."""
    demand(by, "records.hand_over", firm)
    typed, ruled = given.pop("due_at", None), due_of(firm, duty, given["asked_by"], given["received_at"])
    due = min((at for at in (typed, ruled) if at), default=None)
    of = RecordsRequest.DueFrom
    made = RecordsRequest(firm=firm, handled_by=by, due_at=due, duty=duty.key if duty else "", **given)
    made.due_from = "" if due is None else of.RULE if due == ruled else of.TYPED
    made.save(force_insert=True)
    note(AuditEntry.Kind.CREATED, made, firm=firm, by=by, changes=[change("wanted", None, made.wanted)])
    return made


@transaction.atomic
def close_request(request: RecordsRequest, by: User, why: str) -> None:
    """It needs nothing any more; what was handed over stays with it. Raises PermissionDenied."""
    demand(by, "records.hand_over", request)
    request.closed_at, request.closed_why = clock.now(), why
    request.save(update_fields=["closed_at", "closed_why"])
    changes = [change("closed_at", None, request.closed_at.isoformat())]
    note(AuditEntry.Kind.CHANGED, request, firm=request.firm, by=by, changes=changes, reason=why)
