"""Send what is due: one notice at a time, claimed before its first byte, so that no other worker sends it."""

import logging
from collections.abc import Callable
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import F, QuerySet

from records.models import Attempt, Firm, Notice
from records.models.notices import BY_MACHINE
from records.outbox.answers import Answer, Came
from records.outbox.by_mail import send_by_mail
from records.outbox.by_text_message import send_by_text_message
from records.outbox.outdated import still_holds
from records.outbox.results import result
from shared import clock

FIRST_WAIT, LONGEST_WAIT = timedelta(minutes=2), timedelta(hours=2)
TIME_FOR_THE_OFFICE = timedelta(hours=2)
"""So long before it would be too late the machine gives up and asks the office."""
A_DAY = timedelta(days=1)
LONGEST_SENDING = timedelta(minutes=15)
"""After this whoever claimed it is taken for dead."""
logger = logging.getLogger(__name__)
Kind, State = Attempt.Kind, Notice.State
SENDERS: dict[str, Callable[[Notice], Answer]] = {
    "email": send_by_mail,
    "text-message": send_by_text_message,
}


def send_next(firm: Firm) -> Notice | None:
    """Send the notice that is due first, as it is afterwards; None where none is due. One that names another
    time than is planned by now is withdrawn."""
    notice = claim(firm)
    if notice is None:
        return None
    if not still_holds(notice, notice.treatment):
        result(notice, Kind.WITHDRAWN)
    elif comes_too_late(notice):
        keep(notice, Answer(Came.LATER, ""))
    else:
        keep(notice, tried(notice))
    return notice


def tried(notice: Notice) -> Answer:
    """What came of one try. A fault of ours ends this try alone; it may have struck after all went out."""
    try:
        return SENDERS[notice.means](notice)
    except Exception as error:
        logger.exception("The try to send notice %s ended in a fault", notice.pk)
        return Answer(Came.UNSURE, type(error).__name__)


def due(firm: Firm) -> QuerySet[Notice]:
    waiting = Notice.objects.for_firm(firm).filter(state=State.READY, means__in=BY_MACHINE)
    return waiting.filter(next_try__lte=clock.now()).order_by("next_try", "made_at", "pk")


@transaction.atomic
def claim(firm: Firm) -> Notice | None:
    """Mark one as being sent. PostgreSQL passes over rows that another worker holds; on SQLite there is one
    writer at a time."""
    found = due(firm).select_for_update(skip_locked=True, of=("self",)).first()
    if found is None:
        return None
    now = clock.now()
    taken = Notice.objects.for_firm(firm).filter(pk=found.pk, state=State.READY)
    taken.update(state=State.SENDING, claimed_at=now, tries=F("tries") + 1)
    return Notice.objects.for_firm(firm).select_related("firm", "made_by").get(pk=found.pk)


@transaction.atomic
def keep(notice: Notice, answer: Answer) -> None:
    """What became of a try, unless somebody else has settled the notice meanwhile."""
    rows = Notice.objects.for_firm(notice.firm).select_for_update()
    now = rows.get(pk=notice.pk)
    if now.claimed_at != notice.claimed_at or now.state not in (State.SENDING, State.UNSURE):
        return
    if answer.came == Came.ACCEPTED:
        result(notice, Kind.ACCEPTED, answer.words)
    elif answer.came == Came.REFUSED:
        result(notice, Kind.REFUSED, answer.words)
    elif answer.came == Came.NOBODY:
        result(notice, Kind.SHOWN_ONLY)
    elif answer.came == Came.UNSURE:
        result(notice, Kind.BROKEN_OFF, answer.words)
    elif (next_try := next_try_of(notice)) is None:
        result(notice, Kind.TOO_LATE, answer.words)
    else:
        result(notice, Kind.LATER, answer.words, next_try=next_try)


def next_try_of(notice: Notice) -> datetime | None:
    """Later and later, the last one when the office still has time for another way; None after that."""
    last, now = last_try_at(notice), clock.now()
    if now >= last:
        return None
    wait = min(FIRST_WAIT * 2 ** min(max(notice.tries - 1, 0), 10), LONGEST_WAIT)
    return min(now + wait, last)


def last_try_at(notice: Notice) -> datetime:
    return _limit(notice) - TIME_FOR_THE_OFFICE


def comes_too_late(notice: Notice) -> bool:
    """Whether what was claimed is not even tried. The time that is the office's is not too late for a try; nor
    is any, where somebody asked for it after the limit."""
    claimed_at = notice.claimed_at or clock.now()
    return claimed_at >= _limit(notice) > notice.next_try


def _limit(notice: Notice) -> datetime:
    """Until when it is of use: the first such moment that was still to come when it was made; what is made
    after all of them announces nothing."""
    moments = (notice.latest, notice.planned_at, notice.made_at + A_DAY)
    return next(one for one in moments if one and one > notice.made_at)


def mend(firm: Firm) -> int:
    """Notices whose sender died meanwhile may have gone out: a person has to ask. How many there were."""
    dead = Notice.objects.for_firm(firm).filter(
        state=State.SENDING, claimed_at__lte=clock.now() - LONGEST_SENDING
    )
    found = list(dead)
    for notice in found:
        keep(notice, Answer(Came.UNSURE, ""))
    return len(found)
