"""Write everything of a firm into one file, piece by piece."""

import zlib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO, Any
from zipfile import ZipFile

from records.backup.archive import Contents, Packing
from records.backup.contents import files_of_firms
from records.backup.making import versions
from records.backup.photos import damaged_photos
from records.bundle.around import certificates_of
from records.document.schema import json_schema
from records.leaving import log_files
from records.leaving.dictionary import NAMES, meanings
from records.leaving.moment import one_moment
from records.leaving.tables import ACCOUNTS, Table, tables
from records.leaving.values import as_line, in_a_cell, json_line
from records.models import Firm, LogEntry, SignedRecord, TreeHead, User
from records.record_files import record_file
from shared.spreadsheet_cells import csv_lines

LEAVING = Contents(
    "firm/1",
    {"firm": dict, "migrations": list, "tables": dict, "files": dict},
    ("certificates", "files", "keys", "log", "opened", "records", "rows", "schemas", "tables"),
)
READ_ME = Path(__file__).with_name("README.txt")
STEP = 500
UNREADABLE = (ValueError, LookupError, TypeError, AttributeError, zlib.error)
"""What is stored may be damaged; its bytes leave as they are, and nothing keeps the rest here."""

Json = dict[str, Any]
Tell = Callable[[int, int], None]
"""How far it is: so many of so many rows."""


@dataclass(frozen=True)
class Written:
    """What lies in it; `damaged` names what is missing, can't be read or is not what it was."""

    entries: int
    root: str
    rows: int
    files: int
    damaged: list[str] = field(default_factory=list)


def write_firm(firm: Firm, out: IO[bytes], tell: Tell = lambda _done, _of: None) -> Written:
    """All of the firm as it stands at this moment."""
    with one_moment(), ZipFile(out, "w") as archive:
        return _Writing(firm, Packing(archive), tell).all()


class _Writing:
    def __init__(self, firm: Firm, packing: Packing, tell: Tell) -> None:
        self._firm = firm
        self._packing = packing
        self._tell = tell
        self._tables = tables()
        self._accounts: set[Any] = set()
        self._stated: Json = {}
        self._damaged: list[str] = []
        self._done = self._of = 0

    def all(self) -> Written:
        firm, packing = self._firm, self._packing
        head = TreeHead.objects.for_firm(firm).order_by("-size").first()
        self._of = self._how_much()
        packing.write("README.txt", [READ_ME.read_bytes()])
        self._records()
        self._log()
        for table in self._tables:
            self._rows(table, table.rows(firm))
        self._rows(ACCOUNTS, User.objects.filter(pk__in=self._accounts).order_by("pk"))
        packing.write("tables/dictionary.csv", _lines(csv_lines(NAMES, meanings([*self._tables, ACCOUNTS]))))
        self._files()
        packing.finish(
            LEAVING,
            {
                **versions(),
                "firm": {"uuid": str(firm.pk), "name": firm.name},
                "head": head.head if head else None,
                "tables": self._stated,
            },
        )
        rows = sum(stated["rows"] for stated in self._stated.values())
        root = head.head.get("root", "") if head else ""
        entries = head.size if head else 0
        damaged = self._damaged + damaged_photos(packing.files, [firm])
        return Written(entries, root, rows, len(packing.files), damaged)

    def _how_much(self) -> int:
        """Each row stands in two tables, and what is signed in a file and in the log besides."""
        rows = sum(table.rows(self._firm).count() for table in self._tables)
        signed = SignedRecord.objects.for_firm(self._firm).count()
        return 2 * rows + signed + LogEntry.objects.for_firm(self._firm).count()

    def _records(self) -> None:
        self._packing.write("schemas/treatment-document.json", [json_line(json_schema())])
        signed = SignedRecord.objects.for_firm(self._firm).order_by("pk")
        rows = signed.select_related("firm", "treatment__erasure", "proof_address")
        for record in self._counted(rows.iterator(STEP)):
            name = f"records/{record.treatment.number}-v{record.version}.json"
            try:
                self._packing.write(name, [json_line(record_file(record))])
            except UNREADABLE:
                self._damaged.append(name)

    def _log(self) -> None:
        self._packing.write("log/entries.jsonl", self._counted(log_files.entries_of(self._firm)))
        self._packing.write("log/heads.jsonl", log_files.heads_of(self._firm))
        self._packing.write("keys/public.jsonl", log_files.keys_of(self._firm))
        for name, data in certificates_of(self._firm):
            self._packing.write(name, [data])

    def _rows(self, table: Table, found: Any) -> None:
        values = found.values_list(*table.columns)
        lines = self._as_lines(table, values.iterator(table.at_a_time))
        self._packing.write(f"rows/{table.label}.jsonl", lines)
        shown = [field for field in table.fields if field.get_internal_type() != "BinaryField"]
        cells = found.values_list(*(field.attname for field in shown)).iterator(table.at_a_time)
        rows = ([in_a_cell(value) for value in row] for row in self._counted(cells))
        self._packing.write(
            f"tables/{table.label}.csv", _lines(csv_lines([field.attname for field in shown], rows))
        )
        if hasattr(table.model, "in_the_open"):
            opened = found.iterator(table.at_a_time)
            self._packing.write(f"opened/{table.label}.jsonl", self._opened(table, opened))

    def _opened(self, table: Table, rows: Iterable[Any]) -> Iterator[bytes]:
        for row in rows:
            try:
                yield json_line({"key": str(row.pk), **row.in_the_open()})
            except UNREADABLE:
                self._damaged.append(f"{table.label} {row.pk}")

    def _as_lines(self, table: Table, rows: Iterable[tuple[Any, ...]]) -> Iterator[bytes]:
        count = 0
        for row in self._counted(rows):
            self._accounts.update(row[place] for place in table.of_accounts if row[place] is not None)
            yield as_line(table.columns, row)
            count += 1
        self._stated[table.label] = {"rows": count, "of_every_firm": list(table.of_every_firm)}

    def _files(self) -> None:
        for name, path in files_of_firms(str(self._firm.pk)):
            self._packing.add(name, path)

    def _counted(self, rows: Iterable[Any]) -> Iterator[Any]:
        for row in rows:
            yield row
            self._done += 1
            if self._done % STEP == 0:
                self._tell(self._done, self._of)


def _lines(lines: Iterable[str]) -> Iterator[bytes]:
    return (line.encode() for line in lines)
