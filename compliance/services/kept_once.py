"""A row that is sent twice is kept once."""

from typing import Any

from django.db import IntegrityError, transaction


def kept_once(row: Any) -> tuple[Any, bool]:
    """Insert it, or give back the one that the firm kept under its key before; and whether it is new."""
    try:
        with transaction.atomic():
            row.save(force_insert=True)
    except IntegrityError:
        if before := type(row).objects.for_firm(row.firm).filter(pk=row.pk).first():
            return before, False
        raise
    return row, True
