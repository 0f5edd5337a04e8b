"""Add to a signed record what happened later."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django.db import transaction

from records.document.canonical import as_json
from records.document.follow_up import FOLLOW_UP_SCHEMA, read_follow_up
from records.document.signatures import with_signature
from records.document.signed_record import record_digest
from records.models import AuditEntry, Firm, SignedFollowUp, SignedRecord, Treatment
from records.permissions import demand
from records.selectors import newest_signed
from records.services import log
from records.services.audit import change, note
from records.services.corrections import NotSignedError
from records.services.drafts import lock
from records.services.keys import signing_key
from records.services.signing import signature_members
from records.services.to_sign import CLOCKS_DIFFER_BY, Signer
from shared import clock
from shared.canonical import canonical_bytes
from shared.times import read_time


class FollowUpTimeError(ValueError):
    """What is said to have happened lies before the work began (`earliest`), or is still to come."""

    def __init__(self, at: datetime, earliest: datetime | None) -> None:
        super().__init__(f"{at} is before {earliest} or still to come")
        self.earliest = earliest


@transaction.atomic
def sign_follow_up(
    treatment: Treatment,
    signer: Signer,
    *,
    kind: str,
    at: datetime,
    detail: str = "",
    evidence: Sequence[dict[str, Any]] | None = None,
) -> SignedFollowUp:
    """Sign a follow-up to the version that holds now; the same one sent twice is kept once.

    Raises PermissionDenied, NotSignedError for a draft, FollowUpTimeError, and DocumentFaults.
    """
    demand(signer.user, "records.sign_follow_up", treatment)
    newest = newest_signed(lock(treatment))
    if newest is None:
        raise NotSignedError(treatment.number)
    _judge_time(newest, at)
    stated = {
        "schema": FOLLOW_UP_SCHEMA,
        "follows": {"id": str(treatment.pk), "digest": newest.digest},
        "kind": kind,
        "at": at.isoformat(timespec="seconds"),
        "by": signer.user.name,
        "detail": detail or None,
        "evidence": evidence,
    }
    follow_up = as_json(read_follow_up(stated))
    return _sent_before(newest, follow_up) or _freeze(newest, follow_up, signer)


def _judge_time(record: SignedRecord, at: datetime) -> None:
    stated = (record.sections.get("timing") or {}).get("started_at")
    began = stated and read_time(stated)
    if at > clock.now() + CLOCKS_DIFFER_BY or (began and at < began):
        raise FollowUpTimeError(at, began)


def _sent_before(record: SignedRecord, follow_up: dict[str, Any]) -> SignedFollowUp | None:
    for row in SignedFollowUp.objects.for_firm(record.firm).filter(follows=record, kind=follow_up["kind"]):
        if {name: value for name, value in row.follow_up.items() if name != "signatures"} == follow_up:
            return row
    return None


def _freeze(record: SignedRecord, follow_up: dict[str, Any], signer: Signer) -> SignedFollowUp:
    firm = Firm.objects.for_firm(record.firm).select_for_update().get()
    key, private = signing_key(firm)
    signed = with_signature(follow_up, private, **signature_members(firm, signer, meaning="follow-up"))
    row = SignedFollowUp.objects.create(
        firm=firm,
        follows=record,
        kind=follow_up["kind"],
        at=read_time(follow_up["at"]),
        record=canonical_bytes(signed),
        digest=record_digest(signed),
        follow_up=signed,
        key=key,
        by=signer.user,
    )
    log.append(firm, row, private)
    stated = [change(name, None, value) for name, value in follow_up.items() if value is not None]
    note(AuditEntry.Kind.FOLLOWED_UP, record, firm=firm, by=signer.user, changes=stated)
    return row
