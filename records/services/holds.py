"""Hold a treatment's records: while a hold stands, nothing of them is erased."""

from django.db import transaction

from records.models import AuditEntry, HoldLifted, LegalHold, Treatment, User
from records.permissions import demand
from records.services.audit import note
from records.services.drafts import lock


class NoHoldError(ValueError):
    """There is no hold that could be lifted."""


@transaction.atomic
def hold(treatment: Treatment, reason: str, by: User) -> LegalHold:
    """Raises PermissionDenied, and ValueError without a reason. One that stands already is given back."""
    demand(by, "records.hold_treatment", treatment)
    locked = lock(treatment)
    if standing := standing_hold(locked):
        return standing
    made = LegalHold.objects.create(firm=locked.firm, treatment=locked, reason=_given(reason), by=by)
    note(AuditEntry.Kind.CREATED, made, firm=locked.firm, by=by, reason=made.reason)
    return made


@transaction.atomic
def lift(treatment: Treatment, reason: str, by: User) -> HoldLifted:
    """Raises PermissionDenied, NoHoldError, and ValueError without a reason."""
    demand(by, "records.hold_treatment", treatment)
    standing = standing_hold(lock(treatment))
    if standing is None:
        raise NoHoldError(treatment.number)
    lifted = HoldLifted.objects.create(firm=standing.firm, hold=standing, reason=_given(reason), by=by)
    note(AuditEntry.Kind.CREATED, lifted, firm=standing.firm, by=by, reason=lifted.reason)
    return lifted


def standing_hold(treatment: Treatment) -> LegalHold | None:
    return LegalHold.objects.for_firm(treatment.firm).filter(treatment=treatment, lifted=None).first()


def _given(reason: str) -> str:
    if not reason.strip():
        raise ValueError("a reason is needed")
    return reason.strip()
