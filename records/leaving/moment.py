"""Read a firm as it stood at one moment, while others go on writing."""

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection

_BEGIN = {"sqlite": "BEGIN", "postgresql": "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY"}


@contextmanager
def one_moment() -> Iterator[None]:
    """All that is read within is of the same moment; nothing may be written, and nobody else waits.

    The framework's own transactions would take the right to write on SQLite.
    """
    if connection.in_atomic_block:
        yield
        return
    with connection.cursor() as cursor:
        cursor.execute(_BEGIN[connection.vendor])
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute("ROLLBACK")
