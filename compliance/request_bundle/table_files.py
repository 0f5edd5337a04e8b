"""The tables written line by line into files, and the dictionary that says what their columns mean."""

import csv
import re
from collections.abc import Iterable, Iterator
from io import StringIO
from pathlib import Path

from compliance.request_bundle.beside_words import TABLES_BESIDE
from compliance.request_bundle.column_words import said_of
from compliance.request_bundle.folder import make_folder, opened
from compliance.request_bundle.reading import items_of, quantity_said, said, value_at
from compliance.request_bundle.tables import TABLES, Col, TableOf
from compliance.request_bundle.worked_out import WORKED_OUT, Chain, OfRecord
from shared.spreadsheet_cells import BYTE_ORDER_MARK, harmless
from shared.wording import LANGUAGES

_NUMBER = re.compile(r"-?\d+(\.\d+)?")
_UNIT = (
    "the unit of the number beside it, as entered",
    "la unidad del número de al lado, tal como se anotó",
)


class TableFiles:
    """All tables, open at once; `add` writes a record's rows."""

    def __init__(self, folder: Path) -> None:
        make_folder(folder)
        self._folder = folder
        self._files = {table.name: opened(folder / f"{table.name}.csv") for table in TABLES}
        for table in TABLES:
            self._files[table.name].writelines(as_csv([names_of(table)]))

    def add(self, record: OfRecord) -> None:
        for table in TABLES:
            for cells in rows_of(table, record):
                self._files[table.name].write(line_of(cells))

    def close(self) -> None:
        for file in self._files.values():
            file.close()

    def done(self) -> Iterator[tuple[str, Path]]:
        self.close()
        for table in TABLES:
            yield f"tables/{table.name}.csv", self._folder / f"{table.name}.csv"


def names_of(table: TableOf) -> list[str]:
    endings = {True: ("", "_unit"), False: ("",)}
    return [f"{col.name}{ending}" for col in table.columns for ending in endings[col.quantity]]


def rows_of(table: TableOf, record: OfRecord) -> Iterator[list[str]]:
    for chain in items_of(record.file, table.each) if table.each else [{"": record.file}]:
        yield [cell for col in table.columns for cell in _cells(col, record, chain)]


def _cells(col: Col, record: OfRecord, chain: Chain) -> tuple[str, ...]:
    worked = WORKED_OUT.get(col.at)
    value = worked(record, chain) if worked else value_at(chain, col.at)
    return quantity_said(value) if col.quantity else (said(value),)


def dictionary() -> Iterator[list[str]]:
    """A line for each column: its table, its name, what it means in both languages, where it comes from."""
    yield ["table", "column", "meaning", "significado", "place in the record file"]
    for table in TABLES:
        for col in table.columns:
            english, spanish = said_of(table, col)
            place = "worked out" if col.at.startswith("=") else col.at
            yield [f"{table.name}.csv", col.name, english, spanish, place]
            if col.quantity:
                yield [f"{table.name}.csv", f"{col.name}_unit", *_UNIT, place]
    for name, columns in TABLES_BESIDE.items():
        for column, words in columns.items():
            yield [name, column, *(words.say(language) for language in LANGUAGES), "not of the record file"]


def as_csv(rows: Iterable[Iterable[str]]) -> Iterator[bytes]:
    """A file of CSV (RFC 4180), with the mark that tells spreadsheets its letters."""
    yield BYTE_ORDER_MARK.encode()
    for row in rows:
        yield line_of(row)


def line_of(cells: Iterable[str]) -> bytes:
    line = StringIO()
    csv.writer(line).writerow([_cell(cell) for cell in cells])
    return line.getvalue().encode()


def _cell(cell: str) -> str:
    """A number below zero is a number; whatever else begins like a formula is none."""
    return cell if _NUMBER.fullmatch(cell) else harmless(cell)
