"""What proves a signed record to anyone who has the address of its proof: nothing of what the record says."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from records.document.signatures import public_key_text
from records.log import FirmTree
from records.models import KeyChange, LogEntry, ProofAddress, SignedFollowUp, SignedRecord, SigningKey, TreeHead
from records.selectors import follow_ups_of, signed_versions
from shared.merkle import Hash, inclusion_proof

Json = dict[str, Any]
SCHEMA = "inclusion-proof/1"


@dataclass(frozen=True)
class Place:
    """Where the newest signed head of the log has the record, with the proof of it."""

    entry: LogEntry
    head: TreeHead
    proof: list[Hash]

    @property
    def key(self) -> str:
        """The digest of the key that signed the head."""
        return str(self.head.head["signatures"][0]["key"])


@dataclass(frozen=True)
class RecordProof:
    """A record's place in its firm's log (None: it has none yet), and what was signed to it since."""

    record: SignedRecord
    place: Place | None
    later: list[SignedRecord]
    follow_ups: list[SignedFollowUp]
    key_changes: list[KeyChange]
    """From the key that signed the record to the one in force."""

    @property
    def voided(self) -> SignedRecord | None:
        """The version that says that the record does not hold."""
        return next((one for one in [self.record, *self.later] if one.kind == SignedRecord.Kind.VOID), None)

    @property
    def overtaken_at(self) -> str:
        """When who signed it says to have signed what holds now instead: the void version, or the newest."""
        holds = self.voided or (self.later[-1] if self.later else self.record)
        return str(holds.signature.get("claimed_at", ""))


def proof_at(token: str) -> RecordProof | None:
    """The proof that this unguessable address names."""
    if not re.fullmatch("[0-9a-f]{32}", token):
        return None
    rows = ProofAddress.across_firms.select_related("record__treatment", "record__firm", "record__key")
    found = rows.filter(pk=token).first()
    if found is None:
        return None
    record = found.record
    versions = signed_versions(record.treatment).filter(version__gt=record.version)
    return RecordProof(
        record=record,
        place=_place_of(record),
        later=list(versions.select_related("entry").order_by("version")),
        key_changes=list(_changes_since(record)),
        follow_ups=list(follow_ups_of(record.treatment).select_related("entry").order_by("received_at")),
    )


def as_file(proof: RecordProof, place: Place) -> Json:
    """The proof as `inclusion-proof/1`: with the record's own bytes it shows that the log has them there."""
    record = proof.record
    keys = SigningKey.objects.for_firm(record.firm)
    return {
        "schema": SCHEMA,
        "record": {
            "number": record.treatment.number,
            "version": record.version,
            "kind": record.kind,
            "digest": record.digest,
        },
        "index": place.entry.index,
        "leaf": bytes(place.entry.leaf).hex(),
        "received_at": _moment(place.entry.received_at),
        "proof": [part.hex() for part in place.proof],
        "head": place.head.head,
        "key_changes": [json.loads(bytes(change.record)) for change in proof.key_changes],
        "keys": {key.digest: public_key_text(bytes(key.public)) for key in keys},
        "later_versions": [
            {"version": one.version, "kind": one.kind, **_signed_later(one)} for one in proof.later
        ],
        "follow_ups": [_signed_later(one) for one in proof.follow_ups],
    }


def _changes_since(record: SignedRecord) -> Iterator[KeyChange]:
    changes = KeyChange.objects.for_firm(record.firm).select_related("key", "replaces", "entry")
    following = {change.replaces_id: change for change in changes}
    key = record.key_id
    while key in following:
        change = following.pop(key)
        yield change
        key = change.key_id


def _signed_later(signed: SignedRecord | SignedFollowUp) -> Json:
    entry = getattr(signed, "entry", None)
    return {
        "digest": signed.digest,
        "received_at": _moment(signed.received_at),
        "index": entry.index if entry else None,
    }


def _moment(at: datetime) -> str:
    return at.isoformat(timespec="seconds")


def _place_of(record: SignedRecord) -> Place | None:
    entry = LogEntry.objects.for_firm(record.firm).filter(record=record).first()
    head = TreeHead.objects.for_firm(record.firm).order_by("-size").first()
    if entry is None or head is None or head.size <= entry.index:
        return None
    proof = FirmTree(record.firm).read(lambda full: inclusion_proof(entry.index, head.size, full))
    return Place(entry, head, proof)
