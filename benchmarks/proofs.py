"""The log's tree: leaves and roots against bare SHA-256 over the same bytes, and proofs at a million leaves."""

import hashlib
from collections.abc import Iterator
from typing import Any

from benchmarks.timing import Ratio, alone, compare
from shared.canonical import canonical_bytes
from shared.merkle import GrowingTree, Hash, consistency_proof, inclusion_proof, leaf_hash, node_hash

RECORDS = 1000
MANY = 1_000_000


class Levels:
    """All full subtrees of a tree, in one run of bytes for each level."""

    def __init__(self, size: int) -> None:
        self.levels = [b"".join(leaf_hash(number.to_bytes(4)) for number in range(size))]
        while len(self.levels[-1]) >= 64:
            below = self.levels[-1]
            pairs = [(below[at : at + 32], below[at + 32 : at + 64]) for at in range(0, len(below) - 63, 64)]
            self.levels.append(b"".join(node_hash(left, right) for left, right in pairs))

    def full(self, level: int, place: int) -> Hash:
        return self.levels[level][32 * place : 32 * place + 32]


def ratios(document: dict[str, Any]) -> Iterator[Ratio]:
    stored = [canonical_bytes(document | {"notes": str(number)}) for number in range(RECORDS)]
    yield compare(
        f"{RECORDS:,} entries of a log worked out anew, to its root",
        lambda: worked_out(stored),
        "bare SHA-256 over the same bytes",
        lambda: [hashlib.sha256(data).digest() for data in stored],
    )
    tree = Levels(MANY)
    yield alone("proof that an entry is among a million", lambda: inclusion_proof(345_678, MANY, tree.full))
    yield alone("proof that a million keep an earlier log", lambda: consistency_proof(654_321, MANY, tree.full))


def worked_out(stored: list[bytes]) -> Hash:
    tree = GrowingTree()
    for data in stored:
        tree.add(leaf_hash(data))
    return tree.root
