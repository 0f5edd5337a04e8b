"""What the worker does for the outbox."""

from datetime import datetime, timedelta

from django.db.models import Min, Q
from django_tasks import task
from django_tasks.base import TaskResultStatus
from django_tasks_db.models import DBTaskResult

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
    queue_go(firm, max(latest, clock.now() + timedelta(minutes=1)))
    begun = clock.now()
    for _ in range(AT_ONE_GO):
        if clock.now() > begun + LONGEST_GO:
            queue_go(firm, None)
            break
        if send_next(firm) is None:
            break
    else:
        queue_go(firm, None)
    if following := next_go(firm):
        queue_go(firm, following)


def next_go(firm: Firm) -> datetime | None:
    """When there is something to do again; None when all is settled."""
    rows, now = Notice.objects.for_firm(firm), clock.now()
    waiting = rows.filter(state=Notice.State.READY, means__in=BY_MACHINE).aggregate(first=Min("next_try"))
    sending = rows.filter(state=Notice.State.SENDING).aggregate(first=Min("claimed_at"))
    moments = [waiting["first"], sending["first"] and sending["first"] + LONGEST_SENDING]
    known = [moment for moment in moments if moment]
    return min(max(min(known), now), now + LONGEST_SLEEP) if known else None


def queue_go(firm: Firm, at: datetime | None) -> None:
    """Have the worker send at that time (None: at once), unless it will by then anyway. Where
    tasks are done at once, as in tests, nothing is done later."""
    if at and not send_due.get_backend().supports_defer:
        return
    by_then = Q(run_after__isnull=True) | Q(run_after__lte=at or clock.now())
    waiting = DBTaskResult.objects.filter(
        by_then,
        status=TaskResultStatus.READY,
        task_path=send_due.module_path,
        args_kwargs__args__0=str(firm.pk),
    )
    if not waiting.exists():
        (send_due.using(run_after=at) if at else send_due).enqueue(str(firm.pk))


def send_soon(firm: Firm) -> None:
    if next_go(firm) is not None:
        queue_go(firm, None)
