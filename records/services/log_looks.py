"""Look at a firm's log and keep what it came to."""

import logging

from django.db import transaction

from records.document.faults import Fault
from records.log_check import look_at_log
from records.log_found import Broken, Looked
from records.models import AuditEntry, Firm, LogLook, User
from records.permissions import demand
from records.services.audit import note
from shared.digests import named

logger = logging.getLogger(__name__)
MOST_KEPT = 50
"""Faults of one look that are kept in words; how many there are in all is kept beside them."""


def look_and_keep(firm: Firm, by: User | None = None) -> LogLook:
    """One look; without `by` it is the daily one. Raises PermissionDenied."""
    if by is not None:
        demand(by, "records.view_log", firm)
    looked = _look(firm)
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


def _look(firm: Firm) -> Looked:
    """What is damaged so that nobody can read it must not keep managers from being told."""
    try:
        return look_at_log(firm)
    except Exception:
        logger.exception("The look at the log of %s broke off", firm.pk)
        return Looked(broken=[Broken("", Fault("", "log/look_broke_off"))])
