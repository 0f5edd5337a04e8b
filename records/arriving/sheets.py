"""A file as it came, CSV or workbook: its sheets, and the rows of one as text, read as they are asked for."""

import csv
from collections import Counter
from collections.abc import Iterator
from itertools import islice

from records.arriving.workbook import Workbook
from records.imports.faults import FileFault, refused
from records.imports.table import DELIMITERS, Row, decoded, records_of

MOST_MEGABYTES = 20
MOST_ROWS = 100_000
MOST_COLUMNS = 100
_TRIED, _LOOKED_AT = 60, 200_000
_ZIP, _OLD = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


class Spreadsheet:
    """CSV in any usual encoding, or XLSX. Raises FileError at once for what is neither."""

    def __init__(self, data: bytes) -> None:
        if len(data) > MOST_MEGABYTES * 1_000_000:
            raise refused("too_big", most=str(MOST_MEGABYTES))
        if data.startswith(_OLD):
            raise refused("old_workbook")
        self.book = Workbook(data) if data.startswith(_ZIP) else None
        self.text, self.encoding = ("", "") if self.book else decoded(data)
        self.sheets = self.book.sheets if self.book else [""]
        if not self.sheets:
            raise refused("no_sheet")

    def first_rows(self, sheet: str, most: int) -> list[Row]:
        """So many at most, for who waits to see them; of a workbook little of the sheet is read."""
        return list(islice(self.rows(sheet, whole=False), most))

    def rows(self, sheet: str, whole: bool = True) -> Iterator[Row]:
        """Rows that hold anything, with the number that a spreadsheet shows beside them."""
        if sheet not in self.sheets:
            raise refused("no_such_sheet", sheet=sheet)
        if self.book is None:
            for row in records_of(self.text, _delimiter(self.text), MOST_COLUMNS, MOST_ROWS):
                yield Row(row.number, tuple(" ".join(cell.split()) for cell in row.cells))
            return
        for place, (number, cells) in enumerate(self.book.rows(sheet, MOST_COLUMNS, whole)):
            if place > MOST_ROWS:
                raise refused("too_many_rows", most=str(MOST_ROWS))
            yield Row(number, cells)

    def merged_across(self, sheet: str, header_row: int) -> list[FileFault]:
        return self.book.merged_across(sheet, header_row) if self.book else []


def _delimiter(text: str) -> str:
    """The one by which the most rows are of one width, and the wider; lines above the header don't count."""

    lines = text[:_LOOKED_AT].splitlines()[:_TRIED]

    def fits(delimiter: str) -> tuple[int, int]:
        try:
            widths = Counter(len(cells) for cells in csv.reader(lines, delimiter=delimiter))
        except csv.Error:
            return (0, 0)
        return max(((count, wide) for wide, count in widths.items() if wide > 1), default=(0, 0))

    return max(DELIMITERS, key=fits)
