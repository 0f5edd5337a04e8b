"""The one place that asks for the time, so that tests and imports can move it."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import datetime

from django.utils import timezone

_set_to: ContextVar[datetime | None] = ContextVar("set_to", default=None)


def now() -> datetime:
    """The present moment, with its offset."""
    return _set_to.get() or timezone.now()


@contextmanager
def at(moment: datetime) -> Iterator[None]:
    """Within the block it is `moment`, which has an offset: for entering what happened at another time."""
    token = _set_to.set(moment)
    try:
        yield
    finally:
        _set_to.reset(token)
