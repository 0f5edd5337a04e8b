"""Goes of the worker for one firm: each waits once, and none overtakes what somebody waits for."""

from datetime import datetime
from typing import Any

from django.db.models import Q
from django_tasks.base import Task, TaskResultStatus
from django_tasks_db.models import DBTaskResult, get_date_max

from records.models import Firm
from shared import clock

BEHIND_PEOPLE = -50
"""The priority of what nobody sits and waits for."""


def queue_go(task: Task[Any, Any], firm: Firm, at: datetime | None) -> None:
    """Have the worker do it for the firm at that time (None: at once), unless it will by then anyway. Where
    tasks are done at once, as in tests, nothing is done later.

    What is due is queued as "at once": the queue takes a time that is past before all that is wanted at once.
    """
    if at and not task.get_backend().supports_defer:
        return
    now = clock.now()
    waiting = DBTaskResult.objects.filter(
        Q(run_after=get_date_max()) | Q(run_after__lte=max(at or now, now)),
        status=TaskResultStatus.READY,
        task_path=task.module_path,
        args_kwargs__args__0=str(firm.pk),
    )
    if not waiting.exists():
        (task.using(run_after=at) if at and at > now else task).enqueue(str(firm.pk))
