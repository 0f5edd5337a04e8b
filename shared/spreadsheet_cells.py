"""Text as it may stand in a cell of a spreadsheet, and lines of CSV (RFC 4180). Pure.

Where a spreadsheet would take a cell for a formula an apostrophe stands before the sign that begins one, and
the file begins with the mark by which spreadsheets know its letters (common practice, no source). So it is
within a cell, too, after a semicolon, a tab or the end of a line: some spreadsheets divide cells there,
whatever quotes are around them.
"""

import csv
import re
from collections.abc import Iterable, Iterator, Sequence

BYTE_ORDER_MARK = "\ufeff"
_FORMULA = re.compile(r"""(^|[;\t\r\n])([ "]*)(?=[=+\-@＝＋－＠])""")
_UNPRINTED = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
"""What XML 1.0 takes in no text (W3C Recommendation, section 2.2)."""


class _Echo:
    """What a writer writes, given back."""

    def write(self, line: str) -> str:
        return line


def harmless(cell: str) -> str:
    """The text of a cell that no spreadsheet takes for a formula."""
    return _FORMULA.sub(r"\1\2'", f"'{cell}" if cell.startswith(("\t", "\r")) else cell)


def printed(cell: str) -> str:
    """The harmless text without what no workbook can hold."""
    return harmless(_UNPRINTED.sub("", cell))


def csv_lines(names: Sequence[str], rows: Iterable[Iterable[str]]) -> Iterator[str]:
    """The lines of a file, the names of its columns first."""
    writer = csv.writer(_Echo())
    yield BYTE_ORDER_MARK + str(writer.writerow([harmless(name) for name in names]))
    for row in rows:
        yield str(writer.writerow([harmless(cell) for cell in row]))
