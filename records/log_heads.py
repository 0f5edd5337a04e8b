"""The signed heads of a firm's log, set against what its entries come to: each entry has one of its own."""

from collections.abc import Iterator, Mapping
from datetime import timedelta
from typing import Any

from records.document.faults import Fault
from records.log_keys import KeysInForce
from records.log_rows import Entry
from records.models import Firm, TreeHead
from shared.digests import named
from shared.merkle import GrowingTree
from shared.times import read_time

Found = tuple[Entry | None, Fault]
"""What does not hold, of which entry; none: of the log itself."""
HEAD_FOLLOWS_WITHIN = timedelta(minutes=1)
"""One transaction takes the row in and signs its head, and waits for nobody between: the firm's row is held
before. A minute is a machine under load; more would let a moment that nobody signed be moved."""


class HeadsInOrder:
    """They go through the log with whoever reads it; `before` are entries from before heads were kept."""

    def __init__(
        self, firm: Firm, heads: Iterator[TreeHead], keys: KeysInForce, kept: Mapping[str, Any] | None
    ) -> None:
        self._log = str(firm.pk)
        self._heads = heads
        self._next = next(heads, None)
        self.first = self._next
        self._keys = keys
        self._outside = kept
        self._covered = self.seen = self.before = 0

    def faults_at(self, entry: Entry, tree: GrowingTree) -> Iterator[Found]:
        """What the heads of the entries so far do not hold, the own one of `entry` and one kept elsewhere."""
        while (row := self._next) and row.size <= tree.size:
            yield from self._head(row, entry, tree)
            self._next = next(self._heads, None)
        if self._covered != tree.size:
            if self.seen:
                yield entry, Fault("", "log/no_own_head", {"index": str(tree.size - 1)})
            else:
                self.before += 1
        if self._outside and self._outside.get("size") == tree.size:
            wrong = [*self._keys.faults_of(self._outside)] or self._outside["root"] != named(tree.root)
            if wrong:
                yield None, Fault("", "log/kept_head_differs", {"size": str(tree.size)})

    def _head(self, row: TreeHead, entry: Entry, tree: GrowingTree) -> Iterator[Found]:
        self.seen += 1
        self._covered = row.size
        try:
            for fault in self._keys.faults_of(row.head):
                yield None, fault
            holds, at = self._fits(row, tree), read_time(row.head["at"])
        except (ValueError, TypeError, KeyError, AttributeError):
            holds, at = False, row.made_at
        if not holds:
            yield None, Fault("", "log/head_differs", {"size": str(row.size)})
        if row.size == tree.size and abs(at - entry.received_at) > HEAD_FOLLOWS_WITHIN:
            yield entry, Fault("", "log/received_other", {"at": entry.received_at.isoformat()})

    def _fits(self, row: TreeHead, tree: GrowingTree) -> bool:
        expected = {"log": self._log, "size": row.size, "root": named(tree.root)}
        fits = row.size == tree.size and all(row.head[name] == value for name, value in expected.items())
        return fits and read_time(row.head["at"]) == row.made_at

    def faults_beyond(self, size: int) -> Iterator[Found]:
        """Heads of more entries than there are, and entries that no head covers."""
        while row := self._next:
            self._covered = row.size
            yield None, Fault("", "log/head_beyond", {"size": str(row.size), "entries": str(size)})
            self._next = next(self._heads, None)
        if self._covered < size:
            yield None, Fault("", "log/not_covered", {"size": str(self._covered), "entries": str(size)})
        if self._outside and self._outside.get("size") not in range(1, size + 1):
            yield None, Fault("", "log/kept_head_differs", {"size": str(self._outside.get("size"))})
