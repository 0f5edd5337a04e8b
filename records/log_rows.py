"""Read the rows that a look at a firm's log goes through, many at a time, in the order of the log."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from itertools import groupby, islice
from operator import itemgetter
from typing import NamedTuple
from uuid import UUID

from django.db.models import BooleanField, ExpressionWrapper, Q

from records.log_found import name_of
from records.models import (
    Erasure,
    Firm,
    KeyChange,
    LogEntry,
    LogNode,
    SignedFollowUp,
    SignedRecord,
    TreeHead,
)
from shared.merkle import Hash

AT_A_TIME = 500
Place = tuple[int, int]
Stored = bytes | memoryview | str


class RecordEntry(NamedTuple):
    """The entry of a signed record: what the entry keeps, then what the record's row and its treatment's do;
    `at_home` where all three are of one firm."""

    index: int
    leaf: Stored
    received_at: datetime
    data: Stored
    digest: str
    signed_received_at: datetime
    lines: Stored
    treatment: UUID
    number: str
    state: str
    version: int
    kind: str
    reason: str
    key: str
    replaces: str | None
    at_home: bool

    @property
    def name(self) -> str:
        return f"{self.number} v{self.version}"


class OtherEntry(NamedTuple):
    """The entry of what is no record, and its row."""

    index: int
    leaf: Stored
    received_at: datetime
    data: Stored
    digest: str
    signed_received_at: datetime
    signed: SignedFollowUp | KeyChange | Erasure

    @property
    def name(self) -> str:
        return name_of(self.signed)


class LostEntry(NamedTuple):
    """An entry of which nothing is there that was signed."""

    index: int
    leaf: Stored
    received_at: datetime
    name: str = ""


Entry = RecordEntry | OtherEntry | LostEntry
_OF_RECORD = (
    "record",
    "digest",
    "received_at",
    "section_lines",
    "treatment_id",
    "treatment__number",
    "treatment__state",
    "version",
    "kind",
    "reason",
    "key__digest",
    "replaces__digest",
)
_COLUMNS = ("index", "leaf", "received_at", *(f"record__{name}" for name in _OF_RECORD), "at_home")
_DATA = _COLUMNS.index("record__record")


def as_bytes(stored: Stored) -> bytes:
    """SQLite keeps text in a column of bytes, too, if somebody puts it there."""
    return stored.encode() if isinstance(stored, str) else bytes(stored)


class LogRows:
    """What is stored of a firm's log."""

    def __init__(self, firm: Firm) -> None:
        self._firm = firm

    def entries(self) -> Iterator[Entry]:
        """All entries, each with what was signed."""
        at_home = Q(record__firm=self._firm, record__treatment__firm=self._firm)
        home = ExpressionWrapper(at_home, output_field=BooleanField())
        rows = LogEntry.objects.for_firm(self._firm).annotate(at_home=home).order_by("index")
        found = rows.values_list("follow_up_id", "key_change_id", "erasure_id", *_COLUMNS).iterator(AT_A_TIME)
        while batch := list(islice(found, AT_A_TIME)):
            follow_ups = self._follow_ups([row[0] for row in batch if row[0]])
            changes = self._key_changes([row[1] for row in batch if row[1]])
            erasures = self._erasures([row[2] for row in batch if row[2]])
            for follow_up, change, erasure, *columns in batch:
                index, leaf, received_at, *_of_record = columns
                if other := follow_ups.get(follow_up) or changes.get(change) or erasures.get(erasure):
                    yield OtherEntry(
                        index, leaf, received_at, other.record or b"", other.digest, other.received_at, other
                    )
                elif columns[_DATA] is None:
                    yield LostEntry(index, leaf, received_at)
                else:
                    yield RecordEntry._make(columns)

    def _follow_ups(self, keys: list[UUID]) -> dict[UUID, SignedFollowUp]:
        rows = SignedFollowUp.objects.for_firm(self._firm).select_related("follows__treatment", "key")
        return rows.in_bulk(keys) if keys else {}

    def _key_changes(self, keys: list[UUID]) -> dict[UUID, KeyChange]:
        rows = KeyChange.objects.for_firm(self._firm).select_related("key", "replaces")
        return rows.in_bulk(keys) if keys else {}

    def _erasures(self, keys: list[UUID]) -> dict[UUID, Erasure]:
        rows = Erasure.objects.for_firm(self._firm).select_related("firm", "treatment")
        return rows.in_bulk(keys) if keys else {}

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

    def left_out(self) -> Iterator[SignedRecord | SignedFollowUp | KeyChange | Erasure]:
        """What is signed and has no entry."""
        for model in (SignedRecord, SignedFollowUp, KeyChange, Erasure):
            yield from model.objects.for_firm(self._firm).filter(entry=None).iterator(AT_A_TIME)
