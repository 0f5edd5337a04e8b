"""What the worker does for hooks."""

from datetime import datetime, timedelta

from django.db.models import Min, Q
from django_tasks import task
from django_tasks.base import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from records.hooks.sending import tell_next
from records.models import Firm, HookCall
from shared import clock

AT_ONE_GO = 50
LONGEST_GO = timedelta(minutes=1)
"""A program that is slow to answer keeps nobody else's tasks waiting for longer."""
KEPT = timedelta(days=30)


@task()
def tell_hooks(firm_id: str) -> None:
    """Tell what is due, so many in one go. The next go is queued first: one that dies must not be the last."""
    firm = Firm.objects.for_firm(Firm(pk=firm_id)).get()
    _forget_old(firm)
    if (latest := _next_go(firm)) is None:
        return
    begun = clock.now()
    _queue(firm, max(latest, begun + timedelta(minutes=1)))
    for _ in range(AT_ONE_GO):
        if clock.now() > begun + LONGEST_GO or tell_next(firm) is None:
            break
    if (following := _next_go(firm)) is not None:
        _queue(firm, following)


def tell_soon(firm: Firm) -> None:
    _queue(firm, None)


def _next_go(firm: Firm) -> datetime | None:
    waiting = HookCall.objects.for_firm(firm).filter(state=HookCall.State.WAITING)
    return waiting.aggregate(first=Min("next_try"))["first"]


def _queue(firm: Firm, at: datetime | None) -> None:
    """Unless there is a go by then anyway. Where tasks are done at once, as in tests, nothing is done later."""
    if at and not tell_hooks.get_backend().supports_defer:
        return
    waiting = DBTaskResult.objects.filter(
        Q(run_after__isnull=True) | Q(run_after__lte=at or clock.now()),
        status=TaskResultStatus.READY,
        task_path=tell_hooks.module_path,
        args_kwargs__args__0=str(firm.pk),
    )
    if not waiting.exists():
        (tell_hooks.using(run_after=at) if at else tell_hooks).enqueue(str(firm.pk))


def _forget_old(firm: Firm) -> None:
    settled = HookCall.objects.for_firm(firm).exclude(state=HookCall.State.WAITING)
    settled.filter(made_at__lt=clock.now() - KEPT).delete()
