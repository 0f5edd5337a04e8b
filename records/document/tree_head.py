"""`tree-head/1`: the size and root of a firm's log at a time, signed with the firm's key."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from records.document.faults import Fault
from records.document.signatures import judged_signatures, plain_signature
from shared.digests import named

TREE_HEAD_SCHEMA = "tree-head/1"


def tree_head(log: str, size: int, root: bytes, at: datetime, private: Ed25519PrivateKey) -> dict[str, Any]:
    """The signed head of a log (the firm's id) of `size` leaves. The service signs it, no person."""
    stated = {
        "schema": TREE_HEAD_SCHEMA,
        "log": log,
        "size": size,
        "root": named(root),
        "at": at.isoformat(timespec="microseconds"),
    }
    return {**stated, "signatures": [plain_signature(stated, private)]}


def fault_of_head(head: Mapping[str, Any], keys: Mapping[str, Ed25519PublicKey]) -> Fault | None:
    """The first thing wrong with a head's signature; `keys` may have signed, by digest."""
    return next((fault for _path, fault in judged_signatures(head, keys) if fault), None)
