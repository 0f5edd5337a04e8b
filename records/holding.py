"""Rows of a firm by words that stand in them, whatever their case and accents."""

from collections.abc import Sequence
from typing import Any

from django.db.models import QuerySet

from shared.folded import sought

MOST_FOUND = 10_000
"""More rows than this are no narrower search; the first of them are found."""


def holding(rows: QuerySet[Any], words: str, columns: Sequence[str]) -> QuerySet[Any]:
    """Those of these rows of which every word stands in one of the columns; all of them for no word.

    The rows are read one by one, since the two databases fold otherwise and neither as the register does: for
    customers, sites and the like, of which a firm has thousands.
    """
    asked = sought(words).split()
    if not asked:
        return rows
    found: dict[Any, None] = {}
    for pk, *texts in rows.prefetch_related(None).values_list("pk", *columns).iterator():
        if len(found) == MOST_FOUND:
            break
        names = [sought(text) for text in texts if text]
        if all(any(word in name for name in names) for word in asked):
            found[pk] = None
    return rows.filter(pk__in=[*found])
