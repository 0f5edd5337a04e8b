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
    under, typed = duty.key if duty else "", given.pop("due_at", None)
    found = time_set(firm, under, given["asked_by"], given["received_at"])
    ruled = found.time.due(given["received_at"], ClockOf(firm)) if found else None
    due = min((at for at in (typed, ruled) if at), default=None)
    made = RecordsRequest(firm=firm, handled_by=by, due_at=due, they_set=typed, duty=under, **given)
    of = RecordsRequest.DueFrom
    if due is not None:
        made.due_from = of.TYPED if found is None or due != ruled else of.ASSUMED if found.assumed else of.RULE
    made, is_new = kept_once(made)
    if is_new:
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
