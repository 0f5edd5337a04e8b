"""A record file with its places in a log, made without a database: the record, a change of key, a follow-up."""

import json
from datetime import UTC, datetime
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from records.document.key_change import key_change
from records.document.record_file import record_file
from records.document.signatures import key_digest
from records.document.tree_head import tree_head
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.merkle import GrowingTree, inclusion_proof, leaf_hash
from tests.records.document.record_files import RECORD, STORED, follow_up, keys
from tests.records.document.test_signed_record import KEY, OTHER_KEY, SALTS, SECTIONS

LOG = "a-log"
CHANGED = key_change(LOG, key_digest(KEY.public_key()), datetime(2026, 9, 20, tzinfo=UTC), OTHER_KEY, KEY)


def log_of(things: list[dict[str, Any]], head_key: Ed25519PrivateKey = OTHER_KEY) -> dict[str, Any]:
    """The `log` of these signed things, entered one after another."""
    tree, nodes = GrowingTree(), {}
    for thing in things:
        nodes |= {
            (level, place): hashed for level, place, hashed in tree.add(leaf_hash(canonical_bytes(thing)))
        }
    size = len(things)
    entries = [
        {
            "digest": digest(canonical_bytes(thing)),
            "index": index,
            "proof": [part.hex() for part in inclusion_proof(index, size, lambda *at: nodes[at])],
        }
        for index, thing in enumerate(things)
    ]
    head = tree_head(LOG, size, tree.root, datetime(2026, 9, 21, tzinfo=UTC), head_key)
    return {"head": head, "entries": entries}


def logged_file(order: str = "RCF", **beside: Any) -> dict[str, Any]:
    """Record, change and follow-up in this order; the follow-up by the new key. A copy that may be changed."""
    things = {"R": RECORD, "C": CHANGED, "F": follow_up(OTHER_KEY)}
    parts = {"keys": keys(KEY, OTHER_KEY), "check": STORED, "entry": {"kind": "corrected"}} | beside
    log = log_of([things[one] for one in order])
    file = record_file(RECORD, SECTIONS, SALTS, [things["F"]], [CHANGED], log=log, **parts)
    copy: dict[str, Any] = json.loads(json.dumps(file))
    return copy
