"""Look at a firm's log and keep what it came to."""

from django.db import transaction

from records.log_check import look_at_log
from records.models import AuditEntry, Firm, LogLook, User
from records.permissions import demand
from records.services.audit import note
from shared.digests import named

MOST_KEPT = 50
"""Faults of one look that are kept in words; how many there are in all is kept beside them."""


def look_and_keep(firm: Firm, by: User | None = None) -> LogLook:
    """One look; without `by` it is the daily one. Raises PermissionDenied."""
    if by is not None:
        demand(by, "records.view_log", firm)
    looked = look_at_log(firm)
    broken = [{"whose": one.whose, **one.fault.as_json()} for one in looked.broken[:MOST_KEPT]]
    with transaction.atomic():
        look = LogLook.objects.create(
            firm=firm,
            by=by,
            entries=looked.entries,
            root=named(looked.root),
            faults=len(looked.broken),
            broken=broken,
        )
        note(AuditEntry.Kind.CREATED, look, firm=firm, by=by)
    return look
