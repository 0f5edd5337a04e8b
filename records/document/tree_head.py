"""`tree-head/1`: the size and root of a firm's log at a time, signed with the firm's key."""

from datetime import datetime
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from records.document.signatures import plain_signature
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
