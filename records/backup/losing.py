"""What of the logs that are here a backup does not have, and would be lost if it took their place."""

from django.db import DatabaseError

from records.backup.firms import firms
from records.backup.wordings import BackupError
from records.models import Firm, LogEntry

Entered = dict[tuple[str, str], dict[bytes, bool]]
"""By id and name of a firm: the leaf of each entry, and whether that is an erasure."""


def entered_here() -> Entered:
    """Raises BackupError for a database that can't be read: nobody knows then what would be lost."""
    try:
        return {(str(firm.pk), firm.name): _leaves(firm) for firm in firms()}
    except DatabaseError as error:
        raise BackupError("restore/unknown_loss", why=str(error).strip()) from error


def refuse_loss(before: Entered) -> None:
    """Raises BackupError where not everything is here that was entered before."""
    now = {str(firm.pk): _leaves(firm) for firm in firms()}
    lost = {}
    for (firm, name), leaves in before.items():
        there = now.get(firm, {})
        if gone := [erasure for leaf, erasure in leaves.items() if leaf not in there]:
            lost[name] = f"{name} {len(gone)} ({sum(gone)})"
    if lost:
        raise BackupError("restore/loses_entries", lost=", ".join(lost.values()))


def _leaves(firm: Firm) -> dict[bytes, bool]:
    rows = LogEntry.objects.for_firm(firm).values_list("leaf", "erasure_id")
    return {bytes(leaf): erasure is not None for leaf, erasure in rows.iterator()}
