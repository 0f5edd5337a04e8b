"""What is signed after the record: that it does not hold, and follow-ups."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django.db import transaction

from compliance.services.password import confirm_password
from compliance.tasks import recheck_record
from records.models import SignedFollowUp, SignedRecord, Treatment, User
from records.services import follow_ups, signing
from records.services.corrections import NotSignedError
from records.services.drafts import lock
from records.services.to_sign import Signer

Json = dict[str, Any]


def void_treatment(treatment: Treatment, user: User, password: str, reason: str) -> SignedRecord:
    """Make the record void. Raises WrongPasswordError, TooManyTriesError, and what `records` raises."""
    confirm_password(user, password)
    return signing.void(treatment, reason, Signer(user))


def sign_follow_up(
    treatment: Treatment,
    user: User,
    password: str,
    *,
    kind: str,
    at: datetime,
    detail: str = "",
    evidence: Sequence[Json] | None = None,
) -> SignedFollowUp:
    """Sign a follow-up, and have the record checked again with it by the worker.

    Raises WrongPasswordError, TooManyTriesError, and what `records` raises.
    """
    confirm_password(user, password)
    return follow_up_confirmed(treatment, user, kind=kind, at=at, detail=detail, evidence=evidence)


@transaction.atomic
def follow_up_confirmed(
    treatment: Treatment,
    user: User,
    *,
    kind: str,
    at: datetime,
    detail: str = "",
    evidence: Sequence[Json] | None = None,
) -> SignedFollowUp:
    """Sign a follow-up as `sign_follow_up` does, for a signer who is known to have confirmed it; none
    to what is void."""
    if lock(treatment).state == Treatment.State.VOID:
        raise NotSignedError(treatment.number)
    row = follow_ups.sign_follow_up(
        treatment, Signer(user), kind=kind, at=at, detail=detail, evidence=evidence
    )
    transaction.on_commit(lambda: recheck_record.enqueue(str(row.follows_id), str(row.firm_id)))
    return row
