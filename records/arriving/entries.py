"""The rows of a sheet as entries: each cell read as its member, every fault with its row and cell."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, time
from hashlib import blake2b
from typing import Any

from records.arriving.days import read_times, time_in
from records.arriving.exact import letters
from records.arriving.kinds import KINDS, member_of
from records.arriving.reading import Asked, read_member
from records.imports.faults import FileError, FileFault
from records.imports.table import Row

Entry = dict[str, Any]
MOST_NOTES = 15_000
MIDNIGHT = [time(0)]
"""What programs write behind a day that has no time."""


@dataclass(frozen=True)
class RowRead:
    number: int
    entry: Entry
    faults: list[FileFault] = field(default_factory=list)


def refuse_columns(kind: str, columns: Sequence[str]) -> None:
    """Raise FileError where a choice of columns can't be right."""
    faults = []
    for member in KINDS[kind]:
        count = sum(name == member.name for name in columns)
        if count > 1 and not member.several:
            faults.append(FileFault("twice", {"what": member.wording}))
        if not count and member.needed:
            faults.append(FileFault("missing_column", {"what": member.wording}))
    if faults:
        raise FileError(*faults)


class Entries:
    """Reads rows of one kind; a row that was there before is a fault of the later one."""

    def __init__(
        self, kind: str, header: Sequence[str], columns: Sequence[str], asked: Asked, today: date
    ) -> None:
        self.kind, self.header, self.asked, self.today = kind, header, asked, today
        self.places = [(place, member_of(kind, name)) for place, name in enumerate(columns) if name]
        self.needed = [member for member in KINDS[kind] if member.needed]
        self.notes = sum(member.several for _place, member in self.places)
        self._seen: dict[bytes, int] = {}
        self._numbers: dict[str, int] = {}

    def read(self, rows: Iterable[Row]) -> Iterator[RowRead]:
        for row in rows:
            yield self._row(row)

    def _row(self, row: Row) -> RowRead:
        entry: Entry = {}
        faults: list[FileFault] = []
        behind: list[time] = []
        for place, member in self.places:
            cell = row.cells[place] if place < len(row.cells) else ""
            if not cell:
                continue
            try:
                value = read_member(member, cell, self.asked)
                if member.name == "day" and (clock := time_in(cell)):
                    behind = read_times(clock)
            except FileError as error:
                faults += [self._fault(each, row.number, place, cell) for each in error.faults]
                continue
            if member.several and self.notes > 1:
                value = f"{self.header[place]}: {value}"
            entry[member.name] = f"{entry[member.name]}\n{value}" if member.name in entry else value
        if len(entry.get("notes", "")) > MOST_NOTES:
            faults.append(FileFault("too_long", {"most": str(MOST_NOTES)}, row.number, "", entry["notes"]))
        if behind and behind != MIDNIGHT and "started" not in entry:
            entry["started"] = behind
        told = {fault.column.partition(" · ")[0] for fault in faults}
        for member in self.needed:
            if member.name not in entry and not self._has_a_fault(member.name, told, row.number):
                faults.append(FileFault("missing", {"what": member.wording}, row.number))
        faults += self._of_the_row(row, entry)
        return RowRead(row.number, entry, faults)

    def _has_a_fault(self, name: str, told: set[str], number: int) -> bool:
        return any(member.name == name and f"{letters(place)}{number}" in told for place, member in self.places)

    def _fault(self, fault: FileFault, number: int, place: int, cell: str) -> FileFault:
        column = f"{letters(place)}{number} · {self.header[place] if place < len(self.header) else ''}"
        return FileFault(fault.wording_id, fault.blanks, number, column, str(cell))

    def _of_the_row(self, row: Row, entry: Entry) -> Iterator[FileFault]:
        digest = blake2b("\0".join(row.cells).rstrip("\0").encode(errors="replace"), digest_size=12).digest()
        if (first := self._seen.setdefault(digest, row.number)) != row.number:
            yield FileFault("double", {"row": str(first)}, row.number)
        elif (number := entry.get("number")) and self._numbers.setdefault(number, row.number) != row.number:
            blanks = {"row": str(self._numbers[number]), "number": number}
            yield FileFault("same_treatment", blanks, row.number, "", number)
        if (day := entry.get("day")) and day > self.today:
            yield FileFault("day_ahead", {}, row.number, "", day.isoformat())
        for amount, product in (("amount", "product"), ("amount_2", "product_2")):
            if amount in entry and product not in entry and self.kind == "treatments":
                yield FileFault("needs_product", {}, row.number)
        times = [*entry.get("started", ()), *entry.get("finished", ())]
        if len(times) > 1 and times[-1] < times[0]:
            yield FileFault("before_start", {}, row.number, "", f"{times[0]:%H:%M} – {times[-1]:%H:%M}")
