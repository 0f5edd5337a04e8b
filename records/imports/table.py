"""A table as others export it: any of the usual delimiters and encodings, which are told."""

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass

from records.imports.faults import FileError, FileFault, refused

MOST_MEGABYTES = 5
MOST_ROWS = 10_000
MOST_COLUMNS = 60
DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}
_TRIED = 25
"""Rows that tell which delimiter it is."""


@dataclass(frozen=True)
class Row:
    """`number` as a spreadsheet counts: the header is 1."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class Table:
    header: tuple[str, ...]
    rows: list[Row]
    encoding: str
    delimiter: str


def read_table(data: bytes) -> Table:
    """Raises FileError, with every row that does not fit the header."""
    if len(data) > MOST_MEGABYTES * 1_000_000:
        raise refused("too_big", most=str(MOST_MEGABYTES))
    text, encoding = decoded(data)
    delimiter = _delimiter(text)
    read = list(records_of(text, delimiter))
    if len(read) < 2:
        raise refused("no_rows")
    header, *rows = read
    faults = [
        FileFault("more_cells", {"count": str(len(each.cells)), "wanted": str(len(header.cells))}, each.number)
        for each in rows
        if any(each.cells[len(header.cells) :])
    ]
    if faults:
        raise FileError(*faults)
    wide = len(header.cells)
    rows = [Row(each.number, (*each.cells, *[""] * wide)[:wide]) for each in rows]
    return Table(header.cells, rows, encoding, delimiter)


def decoded(data: bytes) -> tuple[str, str]:
    """UTF-8 if it is that, else as Windows writes Western European text; UTF-16 only if it says so itself."""
    tried = ["utf-16"] if data[:2] in (b"\xff\xfe", b"\xfe\xff") else ["utf-8-sig", "cp1252"]
    for encoding in tried:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text, encoding.removesuffix("-sig")
    raise refused("not_text")


def _delimiter(text: str) -> str:
    """The one by which most rows have as many cells as the header, and the most of them."""

    def fits(delimiter: str) -> tuple[int, int]:
        lines = "\n".join(text.splitlines()[: _TRIED * 2])
        try:
            widths = [
                len(each.cells) for each, _ in zip(records_of(lines, delimiter), range(_TRIED), strict=False)
            ]
        except FileError:
            return (0, 0)
        wide = widths[0] if widths else 0
        return (sum(each == wide for each in widths), wide) if wide > 1 else (0, 0)

    return max(DELIMITERS, key=fits)


def records_of(
    text: str, delimiter: str, most_columns: int = MOST_COLUMNS, most_rows: int = MOST_ROWS
) -> Iterator[Row]:
    """Those that hold anything. Raises FileError where one can't be read or there are too many."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    number = 0
    while True:
        number += 1
        try:
            cells = tuple(cell.strip() for cell in next(reader))
        except StopIteration:
            return
        except csv.Error as error:
            raise refused("not_csv", number, why=str(error)) from error
        if len(cells) > most_columns:
            raise refused("too_many_columns", number, most=str(most_columns))
        if number > most_rows + 1:
            raise refused("too_many_rows", most=str(most_rows))
        if any(cells):
            yield Row(number, cells)
