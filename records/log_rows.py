"""Read the rows that a look at a firm's log goes through, many at a time, in the order of the log."""

from collections.abc import Iterable, Iterator
from itertools import groupby
from operator import itemgetter

from records.models import Firm, KeyChange, LogEntry, LogNode, SignedFollowUp, SignedRecord, TreeHead
from shared.merkle import Hash

AT_A_TIME = 500
Place = tuple[int, int]
_UNUSED = ("document", "unread")


def as_bytes(stored: bytes | str) -> bytes:
    """SQLite keeps text in a column of bytes, too, if somebody puts it there."""
    return stored.encode() if isinstance(stored, str) else bytes(stored)


class LogRows:
    """What is stored of a firm's log."""

    def __init__(self, firm: Firm) -> None:
        self._firm = firm

    def entries(self) -> Iterator[LogEntry]:
        """All entries, each with what was signed."""
        treatments = ("record__treatment", "follow_up__follows__treatment")
        keys = ("key_change__key", "key_change__replaces")
        unused = [f"{path}__{name}" for path in treatments for name in _UNUSED]
        rows = LogEntry.objects.for_firm(self._firm).order_by("index")
        return rows.select_related(*treatments, *keys).defer(*unused).iterator(AT_A_TIME)

    def heads(self) -> Iterator[TreeHead]:
        """All signed heads, the smallest first."""
        return TreeHead.objects.for_firm(self._firm).order_by("size").iterator(AT_A_TIME)

    def nodes(self, places: Iterable[Place]) -> dict[Place, Hash]:
        """The kept hashes at these levels and places. Those of one level come one after another, so a range
        of each is read."""
        rows = LogNode.objects.for_firm(self._firm)
        found: dict[Place, Hash] = {}
        for level, several in groupby(sorted(places), key=itemgetter(0)):
            on_level = [place for _level, place in several]
            there = rows.filter(level=level, place__range=(on_level[0], on_level[-1]))
            found |= {(level, place): as_bytes(hashed) for place, hashed in there.values_list("place", "hash")}
        return found

    def covered(self) -> int:
        """How many entries the newest head covers."""
        sizes = TreeHead.objects.for_firm(self._firm).order_by("-size").values_list("size", flat=True)
        return sizes.first() or 0

    def left_out(self) -> Iterator[SignedRecord | SignedFollowUp | KeyChange]:
        """What is signed and has no entry."""
        for model in (SignedRecord, SignedFollowUp, KeyChange):
            yield from model.objects.for_firm(self._firm).filter(entry=None).iterator(AT_A_TIME)
