"""What tests ask of the entries of who did what."""

from itertools import chain
from typing import Any

from records.models import AuditEntry, Firm


def entries(firm: Firm, **wanted: Any) -> list[AuditEntry]:
    """The firm's entries that fit, the newest first."""
    return list(AuditEntry.objects.for_firm(firm).filter(**wanted).order_by("-pk"))


def newest(firm: Firm, **wanted: Any) -> AuditEntry:
    return entries(firm, **wanted)[0]


def members(entry: AuditEntry) -> dict[str, tuple[Any, Any]]:
    """Old and new value of each member that changed."""
    return {each["member"]: (each["old"], each["new"]) for each in chain(*entry.changes.values())}
