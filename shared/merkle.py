"""The Merkle tree of RFC 9162, section 2.1, over SHA-256: roots, proofs and how a proof is verified.

A tree is read through a function that gives the hash of any *full* subtree: `full(level, place)` is the hash
over the leaves `[place << level, (place + 1) << level)`. Full subtrees never change as a tree grows, so they
can be kept; everything here looks up a number of them that grows as the logarithm of the tree's size.
"""

import hashlib
from collections.abc import Callable, Iterator, Sequence
from functools import reduce

Hash = bytes
FullSubtree = Callable[[int, int], Hash]
EMPTY = hashlib.sha256(b"").digest()


def leaf_hash(entry: bytes) -> Hash:
    """The hash of one entry (RFC 9162, 2.1.1)."""
    return hashlib.sha256(b"\x00" + entry).digest()


def node_hash(left: Hash, right: Hash) -> Hash:
    """The hash of an inner node (RFC 9162, 2.1.1)."""
    return hashlib.sha256(b"\x01" + left + right).digest()


def completed_by(leaf: int, hashed: Hash, full: FullSubtree) -> Iterator[tuple[int, int, Hash]]:
    """The full subtrees (level, place, hash) that the leaf at an index makes full, itself first, if it is the
    last leaf of the tree."""
    level = 0
    yield level, leaf, hashed
    while leaf & 1:
        hashed = node_hash(full(level, leaf - 1), hashed)
        level, leaf = level + 1, leaf >> 1
        yield level, leaf, hashed


def frontier(size: int) -> list[tuple[int, int]]:
    """Level and place of the full subtrees, from left to right, of which a tree of this size is made: what
    must be at hand to work out its root, or to add a leaf to it."""
    found: list[tuple[int, int]] = []
    end = 0
    for level in range(size.bit_length() - 1, -1, -1):
        if size >> level & 1:
            found.append((level, end >> level))
            end += 1 << level
    return found


def root(size: int, full: FullSubtree) -> Hash:
    """The root of the tree of the first `size` leaves. Raises ValueError for a negative size."""
    if size < 0:
        raise ValueError("a tree has no negative size")
    return _root_of(0, size, full) if size else EMPTY


def inclusion_proof(index: int, size: int, full: FullSubtree) -> list[Hash]:
    """PATH(index, D[0:size]) of RFC 9162, 2.1.3.1, leaf first. Raises ValueError for an index outside."""
    if not 0 <= index < size:
        raise ValueError("the leaf is not in the tree")
    path: list[Hash] = []
    start = 0
    while size > 1:
        split = _split(size)
        if index < split:
            path.append(_root_of(start + split, size - split, full))
            size = split
        else:
            path.append(_root_of(start, split, full))
            start, index, size = start + split, index - split, size - split
    return path[::-1]


def consistency_proof(earlier: int, size: int, full: FullSubtree) -> list[Hash]:
    """PROOF(earlier, D[0:size]) of RFC 9162, 2.1.4.1. Raises ValueError unless 0 < earlier <= size."""
    if not 0 < earlier <= size:
        raise ValueError("the earlier tree is empty, or larger than the later one")
    path: list[Hash] = []
    start, whole = 0, True
    while earlier != size:
        split = _split(size)
        if earlier <= split:
            path.append(_root_of(start + split, size - split, full))
            size = split
        else:
            path.append(_root_of(start, split, full))
            start, earlier, size, whole = start + split, earlier - split, size - split, False
    own = [] if whole else [_root_of(start, size, full)]
    return [*own, *path[::-1]]


def includes(leaf: Hash, index: int, size: int, proof: Sequence[Hash], root_hash: Hash) -> bool:
    """Whether a proof shows that the leaf stands at the index of the tree with this root (2.1.3.2)."""
    if not 0 <= index < size:
        return False
    place, last, found = index, size - 1, leaf
    for part in proof:
        if last == 0:
            return False
        if place & 1 or place == last:
            found = node_hash(part, found)
            while not place & 1 and place:
                place, last = place >> 1, last >> 1
        else:
            found = node_hash(found, part)
        place, last = place >> 1, last >> 1
    return last == 0 and found == root_hash


def extends(earlier: int, earlier_root: Hash, size: int, root_hash: Hash, proof: Sequence[Hash]) -> bool:
    """Whether a proof shows that the tree with the later root begins with the earlier tree (2.1.4.2).

    Every tree begins with the empty one, which has no proof.
    """
    if not 0 <= earlier <= size:
        return False
    if earlier == size:
        return not proof and earlier_root == root_hash
    if earlier == 0:
        return not proof and earlier_root == EMPTY
    path = [earlier_root, *proof] if earlier & (earlier - 1) == 0 else list(proof)
    if not path:
        return False
    place, last = earlier - 1, size - 1
    while place & 1:
        place, last = place >> 1, last >> 1
    old = new = path[0]
    for part in path[1:]:
        if last == 0:
            return False
        if place & 1 or place == last:
            old, new = node_hash(part, old), node_hash(part, new)
            while not place & 1 and place:
                place, last = place >> 1, last >> 1
        else:
            new = node_hash(new, part)
        place, last = place >> 1, last >> 1
    return last == 0 and old == earlier_root and new == root_hash


def _split(size: int) -> int:
    """The largest power of two below the size."""
    return 1 << (size - 1).bit_length() - 1


def _root_of(start: int, size: int, full: FullSubtree) -> Hash:
    """The hash over `size` leaves from `start` on, which stands at a multiple of the size's largest part."""
    parts = [full(level, place + (start >> level)) for level, place in frontier(size)]
    return reduce(lambda found, part: node_hash(part, found), reversed(parts))


class GrowingTree:
    """A tree that grows leaf by leaf and keeps only what the next leaf needs: memory grows as log n."""

    def __init__(self) -> None:
        self.size = 0
        self._frontier: list[Hash] = []

    def add(self, leaf: Hash) -> list[tuple[int, int, Hash]]:
        """The full subtrees (level, place, hash) that the leaf completes, itself first."""
        level, place, hashed = 0, self.size, leaf
        made = [(level, place, hashed)]
        while place & 1:
            level, place, hashed = level + 1, place >> 1, node_hash(self._frontier.pop(), hashed)
            made.append((level, place, hashed))
        self._frontier.append(hashed)
        self.size += 1
        return made

    @property
    def root(self) -> Hash:
        """The root over all leaves so far."""
        if not self.size:
            return EMPTY
        return reduce(lambda found, part: node_hash(part, found), reversed(self._frontier))
