"""What the worker does for the outbox."""

from datetime import datetime, timedelta

from django.db.models import Min
from django_tasks import task

from records.goes import queue_go
from records.models import Firm, Notice
from records.models.notices import BY_MACHINE
from records.outbox.sending import LONGEST_SENDING, mend, send_next
from shared import clock

AT_ONE_GO = 50
"""Then other tasks have their turn."""
LONGEST_GO = timedelta(minutes=1)
"""A firm's sender that is slow to answer keeps nobody else waiting for longer."""
LONGEST_SLEEP = timedelta(minutes=10)


@task()
def send_due(firm_id: str) -> None:
    """Send what is due, in one go so many. The next go is queued first: one that dies must not be the last."""
    firm = Firm.objects.for_firm(Firm(pk=firm_id)).get()
    mend(firm)
    if (latest := next_go(firm)) is None:
        return
    queue_go(send_due, firm, max(latest, clock.now() + timedelta(minutes=1)))
    begun = clock.now()
    for _ in range(AT_ONE_GO):
        if clock.now() > begun + LONGEST_GO:
            queue_go(send_due, firm, None)
            break
        if send_next(firm) is None:
            break
    else:
        queue_go(send_due, firm, None)
    if following := next_go(firm):
        queue_go(send_due, firm, following)


def next_go(firm: Firm) -> datetime | None:
    """When there is something to do again; None when all is settled."""
    rows, now = Notice.objects.for_firm(firm), clock.now()
    waiting = rows.filter(state=Notice.State.READY, means__in=BY_MACHINE).aggregate(first=Min("next_try"))
    sending = rows.filter(state=Notice.State.SENDING).aggregate(first=Min("claimed_at"))
    moments = [waiting["first"], sending["first"] and sending["first"] + LONGEST_SENDING]
    known = [moment for moment in moments if moment]
    return min(max(min(known), now), now + LONGEST_SLEEP) if known else None


def send_soon(firm: Firm) -> None:
    if next_go(firm) is not None:
        queue_go(send_due, firm, None)
