"""What would be signed, by whom and at which moment."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta, tzinfo
from typing import Any

from records import reference
from records.document.days import treatment_day
from records.document.reader import read
from records.document.types import TreatmentDocument
from records.models import Treatment, User
from records.selectors import document_of, newest_signed
from shared import clock
from shared.times import read_time, read_zone

Json = dict[str, Any]
CLOCKS_DIFFER_BY = timedelta(minutes=5)


@dataclass(frozen=True)
class Signer:
    """Who signs, the moment that they claim, and what their device's clock said."""

    user: User
    claimed_at: datetime = field(default_factory=clock.now)
    device_at: datetime | None = None
    clock_ahead: timedelta = timedelta()
    """How far the device's clock was ahead of ours when it sent this, where they differed."""

    @classmethod
    def who_states(cls, user: User, claimed_at: datetime | None, device_at: datetime | None) -> "Signer":
        """A signer by what was sent: without a claim the device's clock says when the record was made, since
        it may have been sent later; without either it is made now."""
        return cls(user, claimed_at or device_at or clock.now(), device_at)


class ImplausibleTimeError(ValueError):
    """The moment that the signer claims lies outside of `earliest` and `latest`."""

    def __init__(self, claimed: datetime, earliest: datetime, latest: datetime) -> None:
        super().__init__(f"{claimed} is not between {earliest} and {latest}")
        self.claimed, self.earliest, self.latest = claimed, earliest, latest


def document_to_sign(
    treatment: Treatment, signer: Signer, parts: Mapping[str, Json] | None = None
) -> TreatmentDocument:
    """The draft as it would be signed now. A first version says who entered it and when it was recorded, and
    has firm, customer and site written out again, or as `parts` has them; a correction keeps the former two and
    says when it was corrected (by whom, says its signature). Raises DocumentFaults."""
    document: Json = {**treatment.document}
    day = treatment_day(read(document)) or treatment.day
    at = signer.claimed_at.astimezone(_zone(treatment)).isoformat(timespec="seconds")
    record = {**document["record"]}
    if treatment.state == Treatment.State.DRAFT:
        document |= parts if parts is not None else _written_parts(treatment, day)
        document["timing"] = {**document.get("timing", {}), "recorded_at": at}
        record["entered_by"] = signer.user.name
    else:
        record["corrected_at"] = at
        first = _first_recorded(treatment)
        document["timing"] = _kept_as("recorded_at", first.get("timing", {}), document.get("timing", {}))
        record = _kept_as("entered_by", first.get("record", {}), record)
    document["record"] = record
    return read(document)


def _written_parts(treatment: Treatment, day: date) -> Mapping[str, Json]:
    return {
        "firm": reference.firm_part(treatment.firm, day),
        "customer": reference.customer_part(treatment.site.customer),
        "site": reference.site_part(treatment.site),
    }


def _first_recorded(treatment: Treatment) -> Json:
    """What each version has had of the first one's recording."""
    newest = newest_signed(treatment)
    return document_of(newest) if newest else {}


def _kept_as(member: str, first: Mapping[str, Any], now: Mapping[str, Any]) -> Json:
    """`now`, with the member as it was at first, left out where it was."""
    others = {name: value for name, value in now.items() if name != member}
    return others if first.get(member) is None else {**others, member: first[member]}


def _zone(treatment: Treatment) -> tzinfo:
    return read_zone(treatment.site.time_zone or treatment.firm.time_zone)


def judge_claim(
    treatment: Treatment,
    document: TreatmentDocument,
    claimed: datetime,
    clock_ahead: timedelta = timedelta(),
) -> None:
    """Raise ImplausibleTimeError unless the claim lies after what it signs and not ahead of our clock.

    A phone without signal signs on the day and sends later, so the past is bounded by the work alone: its
    finish, else its start, else the planned day's first hour, where it was stood down the planning; for a
    correction the version before it. What a device's clock was ahead of ours is taken off for the latter.
    """
    latest = clock.now() + CLOCKS_DIFFER_BY
    earliest = _work_done_at(treatment, document)
    if newest := newest_signed(treatment):
        earliest = max(earliest, newest.received_at)
    if not (earliest - CLOCKS_DIFFER_BY <= claimed and claimed - clock_ahead <= latest):
        raise ImplausibleTimeError(claimed, earliest, latest)


def _work_done_at(treatment: Treatment, document: TreatmentDocument) -> datetime:
    timing = document.timing
    if done := timing and (timing.finished_at or timing.started_at):
        return read_time(done)
    if document.record.result == "stood-down":
        return treatment.created_at
    midnight = datetime.combine(treatment.day, time.min, _zone(treatment))
    return min(midnight, treatment.planned_at)
