"""What the worker's queue has of a task."""

from datetime import datetime
from typing import NamedTuple

from django_tasks import TaskResultStatus, default_task_backend
from django_tasks.exceptions import TaskResultDoesNotExist


class Turn(NamedTuple):
    """`is_queued` while it waits behind other work; `begun_at` is when a worker took it."""

    is_queued: bool
    begun_at: datetime | None = None


def turn_of(task: str) -> Turn:
    """Of the task of this id. One that the queue does not know, or that is done at once as in tests, is not
    waiting."""
    if not task or not default_task_backend.supports_get_result:
        return Turn(is_queued=False)
    try:
        found = default_task_backend.get_result(task)
    except TaskResultDoesNotExist:
        return Turn(is_queued=False)
    return Turn(found.status == TaskResultStatus.READY, found.started_at)
