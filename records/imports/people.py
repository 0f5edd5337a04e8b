"""The people of a list: each row as values of ours, and every cell that can't be read."""

from collections.abc import Sequence
from typing import Any

from records.imports.cells import STANDINGS, read_cell, standing_word
from records.imports.faults import FileError, FileFault
from records.imports.table import Row, Table
from shared.folded import folded
from shared.streets import folded_street

Entry = dict[str, Any]
ADDRESS = ("line1", "line2", "city", "region", "postcode", "country")
_REACHED_BY = ("phone", "email")
_OF_THE_PLACE = ("standing", "dwelling", "abutting", "distance", "walk")
OF_NEIGHBOURS = ("name", "house", *ADDRESS, *_REACHED_BY, "language", "wishes_phone", *_OF_THE_PLACE)
OF_REGISTERS = ("name", "house", *ADDRESS, *_REACHED_BY, "latitude", "longitude")


def read_people(table: Table, columns: Sequence[str]) -> tuple[list[Entry], list[FileFault]]:
    """The entries of all rows, and their faults. A row twice is a fault; entries count only without faults."""
    entries: list[Entry] = []
    faults: list[FileFault] = []
    seen: dict[tuple[str, ...], int] = {}
    for row in table.rows:
        entry, wrong = _entry(row, table.header, columns)
        if not wrong and not entry.get("line1") and not entry.get("latitude"):
            wrong = [FileFault("no_address", {}, row.number)]
        first = seen.setdefault(key_of(entry), row.number)
        if not wrong and first != row.number:
            wrong = [FileFault("double", {"row": str(first)}, row.number)]
        entries.append(entry)
        faults += wrong
    return entries, faults


def taken_for(table: Table, columns: Sequence[str]) -> list[tuple[str, str]]:
    """Words of the column `standing` that are taken for another word, each once, with that word."""
    places = [place for place, member in enumerate(columns) if member == "standing"]
    cells = dict.fromkeys(row.cells[place] for row in table.rows for place in places)
    unsure = [cell for cell in cells if cell.casefold() not in STANDINGS]
    return [(cell, word) for cell in unsure if (word := standing_word(cell))]


def key_of(entry: Entry) -> tuple[str, ...]:
    """What makes two entries the same person or door."""
    parts = ("line2", "city", "postcode", "name", "latitude", "longitude")
    return (folded_street(entry.get("line1", "")), *(folded(str(entry.get(part) or "")) for part in parts))


def _entry(row: Row, header: Sequence[str], columns: Sequence[str]) -> tuple[Entry, list[FileFault]]:
    entry: Entry = {}
    faults = []
    for name, member, cell in zip(header, columns, row.cells, strict=True):
        if not member or not cell:
            continue
        try:
            entry[member] = read_cell(member, cell)
        except FileError as error:
            (fault,) = error.faults
            faults.append(FileFault(fault.wording_id, fault.blanks, row.number, name, cell))
    if house := entry.pop("house", ""):
        entry["line1"] = f"{house} {entry.get('line1', '')}".strip()
    return entry, faults
