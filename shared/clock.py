"""The one place that asks for the time, so that tests and told stories can move it."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import datetime

from django.utils import timezone

_moved: ContextVar[datetime | None] = ContextVar("moved", default=None)


def now() -> datetime:
    """The present moment, with its offset."""
    return _moved.get() or timezone.now()


@contextmanager
def standing_at(moment: datetime) -> Iterator[None]:
    """Let `now` answer `moment` within the block, for a story that is told as it happened."""
    token = _moved.set(moment)
    try:
        yield
    finally:
        _moved.reset(token)
