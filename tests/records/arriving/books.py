"""Workbooks and tables for tests."""

import io
import zipfile
from collections.abc import Sequence
from typing import Any

from openpyxl import Workbook

from records.arriving.sheets import Spreadsheet
from records.imports.table import Row


def book(*rows: Sequence[Any], title: str = "Log", merged: Sequence[str] = (), **sheets: Any) -> bytes:
    """A workbook with one sheet of these rows, and more sheets by their names."""
    made = Workbook()
    sheet = made.active
    sheet.title = title
    for row in rows:
        sheet.append(row)
    for cells in merged:
        sheet.merge_cells(cells)
    for name, others in sheets.items():
        other = made.create_sheet(name)
        for row in others:
            other.append(row)
    kept = io.BytesIO()
    made.save(kept)
    return kept.getvalue()


def with_part(data: bytes, name: str, content: bytes) -> bytes:
    """The workbook with one part put in, or put in another's place."""
    old, new = zipfile.ZipFile(io.BytesIO(data)), io.BytesIO()
    with zipfile.ZipFile(new, "w", zipfile.ZIP_DEFLATED) as archive:
        for each in old.namelist():
            if each != name:
                archive.writestr(each, old.read(each))
        archive.writestr(name, content)
    return new.getvalue()


def part_of(data: bytes, name: str) -> bytes:
    return zipfile.ZipFile(io.BytesIO(data)).read(name)


def rows_of(data: bytes, sheet: str = "") -> list[Row]:
    file = Spreadsheet(data)
    return list(file.rows(sheet or file.sheets[0]))


def cells_of(data: bytes) -> list[tuple[str, ...]]:
    return [row.cells for row in rows_of(data)]
