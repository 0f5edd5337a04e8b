"""Which notices still hold: what people were told last, set against what is planned now."""

from collections.abc import Iterable, Sequence
from itertools import takewhile

from django.db import transaction

from records.models import Attempt, Notice, Treatment, User
from records.models.treatments import SIGNED_STATES
from records.outbox.counting import Person, person_of, went_out
from records.outbox.results import result
from records.outbox.stating import says_otherwise
from records.selectors import signed_versions
from shared import clock
from shared.times import local_day

State = Notice.State
OUT = (State.SENDING, State.SENT, State.VOICEMAIL, State.DELIVERED, State.UNSURE)
"""What may have come to the person, besides what went out before and is in another state by now."""
WAITS = (State.READY, State.PRINTED)
IN_HAND = (State.PRINTED, State.SENDING, State.SENT, State.DELIVERED, State.UNSURE)
"""What told the person, or may have, or lies printed with whoever is to bring it."""


def still_holds(notice: Notice, treatment: Treatment) -> bool:
    """Whether it tells what is planned: this time or, on another day, an alternate date that it names, and the
    same of all else. What is sent of a signed record announces nothing."""
    if treatment.state in SIGNED_STATES and (not treatment.is_off or _of_the_record(notice, treatment)):
        return True
    if treatment.is_off or notice.called_off:
        return treatment.is_off and notice.called_off
    if says_otherwise(notice, treatment):
        return False
    if notice.planned_at == treatment.planned_at:
        return True
    zone = _zone(treatment)
    day = local_day(treatment.planned_at, zone)
    return day.isoformat() in notice.alternate_dates


def outdated(treatment: Treatment, notices: Iterable[Notice]) -> list[Notice]:
    """The last notice that went out to each person, where it no longer holds and it matters to them. One that
    holds and waits is still to come to them."""
    told: dict[Person, list[Notice]] = {}
    to_come: set[Person] = set()
    for one in sorted(notices, key=went_out):
        if one.came_wrong:
            continue
        if one.state in WAITS and still_holds(one, treatment):
            to_come.add(person_of(one))
        elif one.state in OUT or one.gone_out:
            told.setdefault(person_of(one), []).append(one)
    words = (_word(each, treatment) for person, each in told.items() if person not in to_come)
    return [one for one in words if one]


@transaction.atomic
def withdraw_outdated(treatment: Treatment, by: User) -> int:
    """Withdraw what has not gone out and no longer holds; how many they were."""
    now = Treatment.objects.for_firm(treatment.firm).select_related("firm", "site").get(pk=treatment.pk)
    waiting = Notice.objects.for_firm(now.firm).filter(treatment=now, state=State.READY)
    found = [one for one in waiting if not still_holds(one, now)]
    for one in found:
        result(one, Attempt.Kind.WITHDRAWN, by=by)
    return len(found)


def _word(told: Sequence[Notice], treatment: Treatment) -> Notice | None:
    """Of a visit that is off: the last that names a day to come, unless they know by now."""
    if still_holds(told[-1], treatment):
        return None
    if not treatment.is_off:
        return told[-1] if _matters(told[-1], treatment) else None
    since = takewhile(lambda one: not one.called_off, reversed(told))
    return next((one for one in since if _matters(one, treatment)), None)


def _of_the_record(notice: Notice, treatment: Treatment) -> bool:
    first = signed_versions(treatment).last()
    return first is not None and notice.made_at >= first.received_at


def _matters(notice: Notice, treatment: Treatment) -> bool:
    """Until the last day that they were told of is over; of a new time, until it has come."""
    if not treatment.is_off:
        return treatment.state == Treatment.State.DRAFT and treatment.planned_at > clock.now()
    zone = _zone(treatment)
    days = [local_day(notice.planned_at, zone).isoformat(), *notice.alternate_dates]
    return not notice.called_off and max(days) >= local_day(clock.now(), zone).isoformat()


def _zone(treatment: Treatment) -> str:
    return treatment.site.time_zone or treatment.firm.time_zone
