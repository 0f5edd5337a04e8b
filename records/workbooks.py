"""A table as a workbook (ISO/IEC 29500), row by row. No cell of it is a formula."""

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from itertools import chain, islice
from typing import IO, Any

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from shared.spreadsheet_cells import printed

WIDEST, NARROWEST = 60, 12
MEASURED = 200
"""Rows from which the width of a column is told: it is written before them."""


def write_workbook(
    out: IO[bytes], names: Sequence[str], rows: Iterable[Sequence[str | date | Decimal | None]]
) -> None:
    """Write one sheet with the names of its columns above, which stay in sight."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet()
    sheet.freeze_panes = "A2"
    rows = iter(rows)
    first = list(islice(rows, MEASURED))
    for number, name in enumerate(names):
        longest = max(len(str(cell or "")) for cell in (name, *(row[number] for row in first)))
        width = min(WIDEST, max(NARROWEST, longest + 2))
        sheet.column_dimensions[get_column_letter(number + 1)].width = width
    sheet.append([_heading(sheet, name) for name in names])
    for row in chain(first, rows):
        sheet.append([_cell(sheet, value) for value in row])
    book.save(out)


def _heading(sheet: Any, name: str) -> WriteOnlyCell:
    cell = _cell(sheet, name)
    cell.font = Font(bold=True)
    return cell


def _cell(sheet: Any, value: str | date | Decimal | None) -> WriteOnlyCell:
    cell = WriteOnlyCell(sheet, printed(value) if isinstance(value, str) else value)
    if isinstance(value, str):
        cell.data_type = "s"
    return cell
