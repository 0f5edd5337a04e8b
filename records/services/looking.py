"""A manager ticks off what was signed on a device and asked to be looked at."""

from django.db import transaction

from records.models import AuditEntry, LookedAt, Seal, User
from records.permissions import demand
from records.services.audit import note


@transaction.atomic
def look_at(seal: Seal, by: User) -> None:
    """Note who looked at the seal as it now stands, and when; twice is once. Raises PermissionDenied."""
    demand(by, "records.look_at_seals", seal)
    locked = Seal.objects.for_firm(seal.firm).select_for_update().get(pk=seal.pk)
    if locked.asks_still:
        LookedAt.objects.create(firm=locked.firm, seal=locked, by=by)
        note(AuditEntry.Kind.LOOKED_AT, locked, firm=locked.firm, by=by)
