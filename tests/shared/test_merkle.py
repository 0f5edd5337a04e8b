"""The tree of RFC 9162 against reference leaves, roots and proofs; fixtures/vectors/merkle.json names them."""

import hashlib
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as some

from shared.merkle import (
    EMPTY,
    completed_by,
    consistency_proof,
    extends,
    includes,
    inclusion_proof,
    leaf_hash,
    node_hash,
    root,
)

VECTORS = json.loads((Path(__file__).parents[2] / "fixtures" / "vectors" / "merkle.json").read_text())
ENTRIES = [bytes.fromhex(text) for text in VECTORS["entries"]]


class Tree:
    """All full subtrees of some entries, kept as a log keeps them."""

    def __init__(self, entries):
        self.kept = {}
        self.size = 0
        for entry in entries:
            for level, place, hashed in completed_by(self.size, leaf_hash(entry), self.full):
                self.kept[level, place] = hashed
            self.size += 1

    def full(self, level, place):
        return self.kept[level, place]


REFERENCE = Tree(ENTRIES)


def unhexed(proof):
    return [bytes.fromhex(part) for part in proof]


def by_definition(entries):
    """MTH as RFC 9162, 2.1.1, writes it down."""
    if not entries:
        return hashlib.sha256(b"").digest()
    if len(entries) == 1:
        return hashlib.sha256(b"\0" + entries[0]).digest()
    split = 1
    while 2 * split < len(entries):
        split *= 2
    left, right = by_definition(entries[:split]), by_definition(entries[split:])
    return hashlib.sha256(b"\1" + left + right).digest()


@pytest.mark.parametrize("size", range(9))
def test_the_roots_of_the_reference_leaves_are_the_published_ones(size):
    assert root(size, REFERENCE.full).hex() == VECTORS["roots"][size]


def test_leaf_and_node_hashes_are_the_published_ones():
    assert [leaf_hash(entry).hex() for entry in ENTRIES] == VECTORS["leaf_hashes"]
    text, hashed = VECTORS["other_hashes"]["leaf"]
    assert leaf_hash(text.encode()).hex() == hashed
    left, right, hashed = VECTORS["other_hashes"]["node"]
    assert node_hash(left.encode(), right.encode()).hex() == hashed


@pytest.mark.parametrize("case", VECTORS["inclusion"], ids=lambda case: f"{case['index']}-of-{case['size']}")
def test_inclusion_proofs_are_the_published_ones(case):
    proof = inclusion_proof(case["index"], case["size"], REFERENCE.full)
    assert [part.hex() for part in proof] == case["proof"]
    whole = unhexed(VECTORS["roots"])[case["size"]]
    leaf = leaf_hash(ENTRIES[case["index"]])
    assert includes(leaf, case["index"], case["size"], unhexed(case["proof"]), whole)


@pytest.mark.parametrize("case", VECTORS["consistency"], ids=lambda case: f"{case['earlier']}-{case['size']}")
def test_consistency_proofs_are_the_published_ones(case):
    proof = consistency_proof(case["earlier"], case["size"], REFERENCE.full)
    assert [part.hex() for part in proof] == case["proof"]
    before, after = (bytes.fromhex(VECTORS["roots"][case[size]]) for size in ("earlier", "size"))
    assert extends(case["earlier"], before, case["size"], after, unhexed(case["proof"]))


@given(some.lists(some.binary(max_size=4), max_size=70), some.data())
def test_every_root_is_that_of_the_definition_and_every_proof_holds(entries, data):
    tree, size = Tree(entries), len(entries)
    whole = root(size, tree.full)
    assert whole == by_definition(entries)
    if size:
        index = data.draw(some.integers(0, size - 1))
        assert includes(leaf_hash(entries[index]), index, size, inclusion_proof(index, size, tree.full), whole)
        earlier = data.draw(some.integers(1, size))
        before = root(earlier, tree.full)
        assert extends(earlier, before, size, whole, consistency_proof(earlier, size, tree.full))


def changed(proof):
    """A proof as a forger might hand it in: a bit turned, a part put in, taken out or written twice."""
    for place, part in enumerate(proof):
        yield [*proof[:place], bytes([part[0] ^ 1, *part[1:]]), *proof[place + 1 :]]
        yield [*proof[:place], *proof[place + 1 :]]
        yield [*proof[: place + 1], *proof[place:]]
    for place in range(len(proof) + 1):
        yield [*proof[:place], EMPTY, *proof[place:]]


# The negative cases that the reference set uses: wrong leaf, index, size, root; a proof changed, cut or grown.
@pytest.mark.parametrize(("index", "size"), [(index, size) for size in range(1, 9) for index in range(size)])
def test_an_inclusion_proof_holds_for_nothing_else(index, size):
    leaf, whole = leaf_hash(ENTRIES[index]), root(size, REFERENCE.full)
    proof = inclusion_proof(index, size, REFERENCE.full)
    assert includes(leaf, index, size, proof, whole)
    for other in (index - 1, index + 1, index ^ 2):
        assert not includes(leaf, other, size, proof, whole)
    for other in (size * 2, size // 2):
        assert not includes(leaf, index, other, proof, whole)
    for other in (b"", EMPTY, leaf_hash(b"other"), bytes(32)):
        assert not includes(leaf, index, size, proof, other)
        assert not includes(other, index, size, proof, whole)
    for other in changed(proof):
        assert not includes(leaf, index, size, other, whole)


@pytest.mark.parametrize(("earlier", "size"), [(old, size) for size in range(1, 9) for old in range(1, size)])
def test_a_consistency_proof_holds_for_nothing_else(earlier, size):
    before, after = root(earlier, REFERENCE.full), root(size, REFERENCE.full)
    proof = consistency_proof(earlier, size, REFERENCE.full)
    assert extends(earlier, before, size, after, proof)
    assert not extends(earlier, after, size, before, proof)
    assert not extends(size, before, earlier, after, proof)
    assert not extends(earlier, before, size, after, [])
    for other in (b"", EMPTY, leaf_hash(b"other")):
        assert not extends(earlier, other, size, after, proof)
        assert not extends(earlier, before, size, other, proof)
    for other in changed(proof):
        assert not extends(earlier, before, size, after, other)


def test_equal_trees_need_no_proof_and_bear_none():
    whole = root(8, REFERENCE.full)
    assert extends(8, whole, 8, whole, [])
    assert not extends(8, whole, 8, whole, [EMPTY])
    assert not extends(8, root(7, REFERENCE.full), 8, whole, [])
    assert extends(0, EMPTY, 0, EMPTY, [])
    assert not extends(0, EMPTY, 0, whole, [])


def test_every_tree_begins_with_the_empty_one():
    whole = root(3, REFERENCE.full)
    assert extends(0, EMPTY, 3, whole, [])
    assert not extends(0, whole, 3, whole, [])
    assert not extends(0, EMPTY, 3, whole, [EMPTY])


@pytest.mark.parametrize(("index", "size"), [(-1, 3), (3, 3), (0, 0)])
def test_there_is_no_inclusion_proof_of_a_leaf_that_is_not_in_the_tree(index, size):
    with pytest.raises(ValueError, match="not in the tree"):
        inclusion_proof(index, size, REFERENCE.full)


@pytest.mark.parametrize(("earlier", "size"), [(0, 3), (4, 3), (-1, 3)])
def test_there_is_no_consistency_proof_from_a_tree_that_is_no_earlier_one(earlier, size):
    with pytest.raises(ValueError, match="earlier tree"):
        consistency_proof(earlier, size, REFERENCE.full)


def test_a_tree_has_no_negative_size():
    with pytest.raises(ValueError, match="negative"):
        root(-1, REFERENCE.full)
