"""What was sealed on a device and did not fit is looked at again when entries of its person have come in."""

import logging

from django.db import transaction
from django.db.models import QuerySet

from compliance.services.sealed_judging import Sealed, signed
from records.document.faults import DocumentFaults
from records.document.reader import read
from records.document.types import TreatmentDocument
from records.models import LaterFit, Seal, Treatment, User
from records.services.drafts import lock
from records.services.keys import SigningKeyError

logger = logging.getLogger(__name__)


def fit_later(treatment: Treatment, user: User) -> Seal | None:
    """Sign the draft with the newest seal of this person that is what the draft has become; that seal.

    Only the person's own entries lead here: nobody else's make a record in their name.
    """
    if not (_waiting(treatment, user).exists() and user.has_perm("records.sign_treatment", treatment)):
        return None
    try:
        return _fitted(treatment, user)
    except SigningKeyError as error:
        logger.error("%s", error)
        return None


@transaction.atomic
def _fitted(treatment: Treatment, user: User) -> Seal | None:
    locked = lock(treatment)
    for seal in _waiting(locked, user):
        if (document := _read(seal)) and (came := signed(locked, Sealed.of(seal, document))).record:
            LaterFit.objects.create(firm=seal.firm, seal=seal, signed_record=came.record, marks=came.marks)
            return seal
    return None


def _read(seal: Seal) -> TreatmentDocument | None:
    """What was sealed; None if it contradicts itself and can never be signed."""
    try:
        return read(bytes(seal.document).decode())
    except DocumentFaults:
        return None


def _waiting(treatment: Treatment, user: User) -> QuerySet[Seal]:
    seals = Seal.objects.for_firm(treatment.firm).filter(treatment=treatment, by=user)
    return seals.filter(signed_record=None, later_fit=None).select_related("key__revocation", "by")
