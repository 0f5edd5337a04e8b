"""Canonical bytes against `json.dumps` with sorted keys, which gives the same bytes for this document."""

import json
from typing import Any

from benchmarks.timing import Ratio, compare
from shared.canonical import canonical_bytes


def dumped(document: dict[str, Any]) -> bytes:
    return json.dumps(document, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


def ratios(document: dict[str, Any]) -> list[Ratio]:
    assert canonical_bytes(document) == dumped(document)
    return [
        compare(
            "canonical bytes of a document",
            lambda: canonical_bytes(document),
            "`json.dumps`, keys sorted",
            lambda: dumped(document),
        )
    ]
