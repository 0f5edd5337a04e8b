"""A signed record as it is handed around, with all that belongs to it."""

import json
from typing import Any

from django.db.models import Q

from records.document import record_file as document_file
from records.document.signatures import public_key_text
from records.log_places import places_of
from records.models import Firm, KeyChange, Seal, SignedRecord, SigningKey, Treatment
from records.selectors import follow_ups_of, newest_signed
from shared.base64url import text_of

Json = dict[str, Any]


def record_file(
    record: SignedRecord, check: Json | None = None, with_log: bool = True, log_size: int | None = None
) -> Json:
    """What a record is printed from and downloaded as, `record-file/1`; `check` is a `stored-check/1`.

    It says what has happened to the record since, so that an old version is not taken for the one that holds;
    with `log_size` what had happened when the log had so many entries.
    One that lies in a bundle is made without its place in the log, which the bundle proves for all; and so is
    that in a record sheet, which is the same byte for byte and signed with the sheet.
    """
    follow_ups = list(follow_ups_of(record.treatment))
    changes = list(KeyChange.objects.for_firm(record.firm).reverse())
    newest = newest_signed(record.treatment, log_size)
    return document_file.record_file(
        json.loads(bytes(record.record)),
        record.sections,
        record.salts,
        [each.follow_up for each in follow_ups],
        [json.loads(bytes(change.record)) for change in changes],
        check=check,
        keys=_keys(record.firm),
        entry=_entry(record),
        superseded_by=_later(newest) if newest and newest.version > record.version else None,
        erased=_erased(record.treatment),
        seal=_seal_of(record),
        log=places_of(record, follow_ups, changes) if with_log else None,
    )


def _entry(record: SignedRecord) -> Json:
    entry = {
        "kind": record.kind,
        "reason": record.reason or None,
        "received_at": record.received_at.isoformat(timespec="seconds"),
        "proof": address.pk if (address := getattr(record, "proof_address", None)) else None,
    }
    return {name: value for name, value in entry.items() if value is not None}


def _keys(firm: Firm) -> dict[str, str]:
    rows = SigningKey.objects.for_firm(firm)
    return {key.digest: public_key_text(bytes(key.public)) for key in rows}


def _seal_of(record: SignedRecord) -> Json | None:
    """What its signer sealed on a device, with the device's public key; None for a record signed otherwise."""
    fitting = Q(signed_record=record) | Q(later_fit__signed_record=record)
    seal = Seal.objects.for_firm(record.firm).filter(fitting).select_related("key").first()
    if seal is None or not seal.statement:
        return None
    return {
        "statement": json.loads(seal.statement),
        "value": seal.value,
        "public": text_of(bytes(seal.key.public)),
        "sent_at": seal.sent_at.isoformat(timespec="seconds"),
        "received_at": seal.received_at.isoformat(timespec="seconds"),
    }


def _later(newest: SignedRecord) -> Json:
    return {"version": newest.version, "digest": newest.digest, "kind": newest.kind}


def _erased(treatment: Treatment) -> Json | None:
    erasure = getattr(treatment, "erasure", None)
    return erasure and {
        "on": erasure.on.isoformat(),
        "kept_until": erasure.kept_until.isoformat(),
        "under": erasure.under,
        "sections": erasure.sections,
    }
