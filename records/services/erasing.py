"""Erase what a treatment's records say of people, after their term. What proves them stays and still holds."""

from collections.abc import Sequence
from datetime import date

from django.db import transaction

from records.document.personal import PERSONAL, without_people
from records.models import Erasure, Photo, Seal, SignedRecord, Treatment, TreatmentEdit, User
from records.permissions import demand
from records.services.drafts import lock
from records.services.holds import standing_hold
from records.services.photo_evidence import let_go

State = Treatment.State


class NotErasableError(ValueError):
    """It is not signed, a correction is open, it is held or erased already, or its term is not over."""


@transaction.atomic
def erase(
    treatment: Treatment, kept_until: date, under: Sequence[str], on: date, by: User | None = None
) -> Erasure:
    """Take the sections with people, and their salts, out of every version; and what else holds them: the
    working document, register columns, single entries, sealed bytes and photos.

    `under` are the rules that set the term, `on` is the day of today; without `by` the machine's owner does
    it. The database lets the versions shrink because the Erasure names these sections. Raises
    PermissionDenied and NotErasableError.
    """
    if by is not None:
        demand(by, "records.erase_treatment", treatment)
    locked = lock(treatment)
    if locked.state not in (State.SIGNED, State.CORRECTED, State.VOID) or on <= kept_until:
        raise NotErasableError(locked.number)
    if hasattr(locked, "erasure") or standing_hold(locked):
        raise NotErasableError(locked.number)
    erasure = Erasure.objects.create(
        firm=locked.firm,
        treatment=locked,
        sections=sorted(PERSONAL),
        kept_until=kept_until,
        under=list(under),
        on=on,
        by=by,
    )
    _shrink(locked)
    _forget(locked)
    return erasure


def _shrink(treatment: Treatment) -> None:
    versions = SignedRecord.objects.for_firm(treatment.firm).filter(treatment=treatment)
    for version in versions.only("sections", "salts"):
        versions.filter(pk=version.pk).update(
            sections=without_people(version.sections), salts=without_people(version.salts)
        )
    Seal.objects.for_firm(treatment.firm).filter(treatment=treatment).update(document=b"")


def _forget(treatment: Treatment) -> None:
    treatment.document = without_people(treatment.document)
    treatment.unread = {}
    treatment.site_name = treatment.customer_name = treatment.applicators = ""
    treatment.save()
    TreatmentEdit.objects.for_firm(treatment.firm).filter(treatment=treatment).delete()
    for photo in Photo.objects.for_firm(treatment.firm).filter(treatment=treatment):
        let_go(photo)
