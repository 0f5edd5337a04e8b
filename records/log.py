"""Read a firm's log: its kept subtrees, its heads, and proofs over them."""

from collections.abc import Callable, Iterable
from typing import TypeVar

from records.models import Firm, LogEntry, LogNode
from shared.merkle import FullSubtree, Hash

Found = TypeVar("Found")


class FirmTree:
    """The full subtrees of a firm's log, fetched as they are needed, many at a time."""

    def __init__(self, firm: Firm) -> None:
        self._firm = firm
        self._kept: dict[tuple[int, int], Hash] = {}

    def full(self, level: int, place: int) -> Hash:
        """The hash of a full subtree that was fetched or kept before. Raises KeyError."""
        return self._kept[level, place]

    def keep(self, level: int, place: int, hashed: Hash) -> None:
        self._kept[level, place] = hashed

    def fetch(self, wanted: Iterable[tuple[int, int]]) -> None:
        """Read these subtrees, in two queries at most. Raises KeyError for one that is not kept.

        Levels and places are asked for apart, since both databases find these along the index, and no list of
        pairs; it brings a few more than were wanted.
        """
        missing = set(wanted) - self._kept.keys()
        leaves = [place for level, place in missing if level == 0]
        nodes = [(level, place) for level, place in missing if level]
        if leaves:
            entries = LogEntry.objects.for_firm(self._firm).filter(index__in=leaves)
            self._kept |= {(0, index): bytes(leaf) for index, leaf in entries.values_list("index", "leaf")}
        if nodes:
            levels, places = ({at[side] for at in nodes} for side in (0, 1))
            rows = LogNode.objects.for_firm(self._firm).filter(level__in=levels, place__in=places)
            found = rows.values_list("level", "place", "hash")
            self._kept |= {(level, place): bytes(hashed) for level, place, hashed in found}
        if gone := missing - self._kept.keys():
            raise KeyError(f"the log keeps no hash at {sorted(gone)[0]}")

    def read(self, compute: Callable[[FullSubtree], Found]) -> Found:
        """What `compute` makes of the subtrees: those that it looks up are fetched first, all at once."""
        wanted: list[tuple[int, int]] = []

        def note(level: int, place: int) -> Hash:
            wanted.append((level, place))
            return b""

        compute(note)
        self.fetch(wanted)
        return compute(self.full)
