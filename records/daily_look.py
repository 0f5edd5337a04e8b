"""What the worker does once a day: look at every firm's log, and erase its old notices."""

from datetime import timedelta

from django_tasks import task
from django_tasks.base import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from records.models import Firm, User
from records.outbox.erasing import erase_old_notices
from records.services.log_looks import look_and_keep
from shared import clock

A_DAY = timedelta(days=1)


@task()
def look_at_logs() -> None:
    """Have every firm's log looked at and its old notices erased, and tomorrow again."""
    queue_next_look()
    for firm in Firm.across_firms.values_list("pk", flat=True):
        look_at_log_of.enqueue(str(firm))
        erase_old_notices_of.enqueue(str(firm))


@task()
def look_at_log_of(firm_id: str, user_id: str | None = None) -> None:
    """Look at one firm's log, for a user or on schedule."""
    firm = Firm.objects.for_firm(Firm(pk=firm_id)).get()
    look_and_keep(firm, User.objects.get(pk=user_id) if user_id else None)


@task()
def erase_old_notices_of(firm_id: str) -> None:
    """Erase a firm's notices of treatments that were never signed, long after their day."""
    erase_old_notices(Firm.objects.for_firm(Firm(pk=firm_id)).get())


def queue_look_at(firm: Firm, by: User) -> None:
    """Have the firm's log looked at, unless a look at it waits already."""
    waiting = DBTaskResult.objects.filter(
        status=TaskResultStatus.READY,
        task_path=look_at_log_of.module_path,
        args_kwargs__args__0=str(firm.pk),
    )
    if not waiting.exists():
        look_at_log_of.enqueue(str(firm.pk), str(by.pk))


def queue_looks() -> None:
    """Begin the daily looks, unless one is due already. What a worker was killed over is due no more."""
    if not _is_queued():
        look_at_logs.enqueue()


def queue_next_look() -> None:
    if not _is_queued():
        look_at_logs.using(run_after=clock.now() + A_DAY).enqueue()


def _is_queued() -> bool:
    waiting = DBTaskResult.objects.filter(status=TaskResultStatus.READY)
    return bool(waiting.filter(task_path=look_at_logs.module_path).exists())
