"""What the worker does for hooks."""

from datetime import timedelta

from django_tasks import task

from records.goes import BEHIND_PEOPLE, queue_go
from records.hooks.sending import next_due, tell_next, was_no_answer
from records.models import Firm, HookCall
from shared import clock

AT_ONE_GO = 50
LONGEST_GO = timedelta(seconds=10)
"""A program that is slow to answer keeps nobody else's tasks waiting for longer than this and one answer."""
KEPT = timedelta(days=30)


@task(priority=BEHIND_PEOPLE)
def tell_hooks(firm_id: str) -> None:
    """Tell what is due, so many in one go. The next go is queued first: one that dies must not be the last.

    Where no answer comes the go ends, so that others have their turn.
    """
    firm = Firm.objects.for_firm(Firm(pk=firm_id)).get()
    _forget_old(firm)
    if (latest := next_due(firm)) is None:
        return
    begun = clock.now()
    queue_go(tell_hooks, firm, max(latest, begun + timedelta(minutes=1)))
    for _ in range(AT_ONE_GO):
        call = tell_next(firm)
        if call is None or was_no_answer(call) or clock.now() > begun + LONGEST_GO:
            break
    if (following := next_due(firm)) is not None:
        queue_go(tell_hooks, firm, following)


def tell_soon(firm: Firm) -> None:
    queue_go(tell_hooks, firm, None)


def _forget_old(firm: Firm) -> None:
    settled = HookCall.objects.for_firm(firm).exclude(state=HookCall.State.WAITING)
    settled.filter(made_at__lt=clock.now() - KEPT).delete()
