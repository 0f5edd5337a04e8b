"""A record file that holds in every part, to be changed by tests."""

from copy import deepcopy
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from records.document.record_file import record_file
from records.document.signatures import key_digest, public_key_text, with_signature
from records.document.signed_record import record_digest, seal
from shared.canonical import canonical_bytes
from shared.digests import digest
from tests.records.document.test_signed_record import ANSWERS, DOCUMENT, KEY, SALTS, SECTIONS, signed

STORED = {"schema": "stored-check/1"}
BOUND = {"digest": digest(canonical_bytes(STORED)), "context_digest": "sha256:" + "1" * 64}
RECORD = signed(seal(DOCUMENT, ANSWERS, BOUND, SALTS))


def keys(*private: Ed25519PrivateKey) -> dict[str, str]:
    """The public halves as a record file carries them."""
    public = [one.public_key() for one in private]
    return {key_digest(one): public_key_text(one.public_bytes_raw()) for one in public}


def follow_up(key: Ed25519PrivateKey = KEY, **follows: Any) -> dict[str, Any]:
    """A signed follow-up of the record, or of what `follows` says."""
    stated = {
        "schema": "follow-up/1",
        "follows": {"id": DOCUMENT.record.id, "digest": record_digest(RECORD), **follows},
        "kind": "copy-given",
        "detail": "by e-mail",
    }
    said = {"by": "R. Osei", "role": "crew", "meaning": "follow-up"}
    return with_signature(stated, key, **said, claimed_at="2026-09-15T08:00:00-07:00")


def file(**changes: Any) -> dict[str, Any]:
    """The record file, with some of its members changed."""
    whole = record_file(RECORD, SECTIONS, SALTS, [follow_up()], check=STORED, keys=keys(KEY))
    return {**deepcopy(whole), **changes}
