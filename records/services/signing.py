"""Freeze a treatment's document: canonical bytes, section digests, signature and row in one transaction."""

import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from records.document.canonical import as_json, digest_of
from records.document.reader import read
from records.document.section_lines import lines_of
from records.document.signatures import with_signature
from records.document.signed_record import record_digest, seal, sections_of
from records.document.types import TreatmentDocument
from records.models import AuditEntry, Firm, ProofAddress, SignedRecord, Treatment, User
from records.permissions import demand
from records.selectors import document_of, newest_signed
from records.services import log
from records.services.audit import change, note
from records.services.drafts import NotADraftError, lock
from records.services.keys import signing_key
from records.services.projection import project
from records.services.to_sign import Signer, judge_claim
from records.signals import treatment_signed
from shared.canonical import canonical_bytes

State, Kind = Treatment.State, SignedRecord.Kind
Json = dict[str, Any]


class UnreadEntriesError(ValueError):
    """The draft holds entries that could not be read; they are mended or taken out before signing."""


class DraftChangedError(ValueError):
    """The draft was changed after the signer looked at it."""


@dataclass(frozen=True)
class Attachments:
    """What is signed with a document, opaque here: `{rule, about, reason}` and `{digest, context_digest}`."""

    answers: Sequence[Mapping[str, Any]] = ()
    check: Mapping[str, str] | None = None


@transaction.atomic
def sign(
    treatment: Treatment,
    document: TreatmentDocument,
    attachments: Attachments,
    signer: Signer,
    revision: int,
) -> SignedRecord:
    """Sign `document`, which `document_to_sign` made of the draft at `revision`.

    Signing the same revision twice gives the first record. Raises PermissionDenied, NotADraftError,
    DraftChangedError, UnreadEntriesError, ImplausibleTimeError and SigningKeyError; then nothing has changed.
    """
    demand(signer.user, "records.sign_treatment", treatment)
    locked = lock(treatment)
    if first := signed_already(locked, signer.user, revision):
        return first
    if not locked.is_open:
        raise NotADraftError(locked.number)
    if locked.revision != revision:
        raise DraftChangedError(locked.number)
    if locked.unread:
        raise UnreadEntriesError(locked.number)
    judge_claim(locked, document, signer.claimed_at, signer.clock_ahead)
    correcting = locked.state == State.CORRECTING
    kind = Kind.CORRECTED if correcting else Kind.SIGNED
    record = _freeze(locked, document, attachments, signer, kind)
    locked.state = State.CORRECTED if correcting else State.SIGNED
    locked.document = as_json(document)
    project(locked, document)
    return record


def signed_already(treatment: Treatment, user: User, revision: int) -> SignedRecord | None:
    """What this user's first sending of the same form has signed, if it has."""
    newest = newest_signed(treatment)
    return newest if newest and (newest.revision, newest.by_id) == (revision, user.pk) else None


@transaction.atomic
def void(treatment: Treatment, reason: str, signer: Signer) -> SignedRecord:
    """Sign that the record does not hold, and why; what was signed stays. Managers only.

    Raises PermissionDenied, NotADraftError where a correction is open, nothing is signed or it was erased,
    and ValueError without a reason.
    """
    demand(signer.user, "records.void_treatment", treatment)
    locked = lock(treatment)
    newest = newest_signed(locked)
    if newest is None or locked.is_open or hasattr(locked, "erasure"):
        raise NotADraftError(locked.number)
    document = as_next_version(newest, reason)
    document["record"]["corrected_at"] = signer.claimed_at.isoformat(timespec="seconds")
    record = _freeze(locked, read(document), Attachments(), signer, kind=Kind.VOID)
    locked.state = State.VOID
    locked.document = document
    locked.save()
    return record


def as_next_version(newest: SignedRecord, reason: str) -> Json:
    """The signed document as the next version of itself, which names the one it replaces and why."""
    if not reason.strip():
        raise ValueError("a reason is needed")
    document = document_of(newest)
    document["record"] = {
        **document["record"],
        "version": newest.version + 1,
        "replaces": {"version": newest.version, "digest": newest.digest},
        "reason": reason.strip(),
    }
    return document


def _freeze(
    treatment: Treatment, document: TreatmentDocument, attachments: Attachments, signer: Signer, kind: str
) -> SignedRecord:
    firm = Firm.objects.for_firm(treatment.firm).select_for_update().get()
    key, private = signing_key(firm)
    sections = sections_of(document)
    salts = {name: secrets.token_hex(16) for name in sections}
    unsigned = seal(document, attachments.answers, attachments.check, salts)
    signed = with_signature(unsigned, private, **signature_members(firm, signer, meaning=kind))
    record = SignedRecord.objects.create(
        firm=firm,
        treatment=treatment,
        version=document.record.version,
        kind=kind,
        record=canonical_bytes(signed),
        digest=record_digest(signed),
        document_digest=digest_of(document),
        section_lines=lines_of(sections, salts),
        replaces=newest_signed(treatment),
        reason=document.record.reason or "",
        revision=treatment.revision,
        key=key,
        by=signer.user,
    )
    ProofAddress.objects.create(firm=firm, record=record)
    log.append(firm, record, private)
    _note_signature(firm, record, signer.user)
    transaction.on_commit(lambda: treatment_signed.send_robust(sender=SignedRecord, record=record))
    return record


def _note_signature(firm: Firm, record: SignedRecord, by: User) -> None:
    done = AuditEntry.Kind.VOIDED if record.kind == Kind.VOID else AuditEntry.Kind.SIGNED
    changes = [change("digest", record.replaces and record.replaces.digest, record.digest)]
    note(done, record, firm=firm, by=by, changes=changes, reason=record.reason)


def signature_members(firm: Firm, signer: Signer, meaning: str) -> dict[str, Any]:
    """What a signature says beside its value: who, in which role in the firm, meaning what, and when."""
    return {
        "by": signer.user.name,
        "role": signer.user.roles[firm.pk],
        "meaning": meaning,
        "claimed_at": signer.claimed_at.isoformat(timespec="seconds"),
        "device_at": signer.device_at and signer.device_at.isoformat(timespec="seconds"),
    }
