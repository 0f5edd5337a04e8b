"""`tree-head/1`: the size and root of a firm's log at a time, signed with the firm's key."""

import re
from datetime import datetime
from typing import Any, TypeGuard

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from records.document.signatures import plain_signature
from shared.canonical import canonical_bytes
from shared.digests import named
from shared.times import read_time

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


def is_tree_head(value: object) -> TypeGuard[dict[str, Any]]:
    """Whether it has the shape of a signed head, whoever signed it."""
    if not isinstance(value, dict) or value.get("schema") != TREE_HEAD_SCHEMA:
        return False
    signatures = value.get("signatures")
    if type(value.get("size")) is not int or not isinstance(signatures, list):
        return False
    if not all(isinstance(one, dict) and isinstance(one.get("key"), str) for one in signatures):
        return False
    try:
        read_time(str(value.get("at")))
        canonical_bytes(value)
    except ValueError:
        return False
    root = re.fullmatch("sha256:[0-9a-f]{64}", str(value.get("root")))
    return bool(root) and isinstance(value.get("log"), str)
