"""Go through all rows of a file: what is in doubt is asked, faults are told, and what each row makes waits.

Nothing of the firm is changed by it. It is the worker's, in small steps that each note how far it is.
"""

import logging
from collections import Counter
from collections.abc import Iterator
from itertools import islice
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import transaction

from records.arriving.doubts import Scan
from records.arriving.entries import Entries, RowRead, refuse_columns
from records.arriving.sheets import Spreadsheet
from records.imports.faults import FileError, FileFault
from records.imports.table import Row
from records.models import ArrivalFile, ArrivedRow, Treatment
from records.services.bringing_in.files import ANSWERS, Shape, shape_of
from records.services.bringing_in.makers import Makers
from records.services.bringing_in.old_treatments import OldTreatments, taken_numbers
from records.services.bringing_in.staged import TERMS, makes, packed, packed_terms
from shared import clock
from shared.wording import LANGUAGES

logger = logging.getLogger(__name__)
STEP = 250
State = ArrivalFile.State


class OverrunError(Exception):
    """Another turn has begun meanwhile."""


def go_through(file: ArrivalFile, run: UUID) -> None:
    """Take the turn to its end; one that was overrun by another ends without a word."""
    try:
        _go_through(file, run)
    except FileError as error:
        faults = [as_json(each) for each in error.faults[:STEP]]
        _note(file, run, state=State.SENT, faults=faults)
    except OverrunError:
        return
    except Exception:
        logger.exception("The file %s could not be looked at", file.pk)
        own = ArrivalFile.objects.for_firm(file.firm).filter(pk=file.pk, run=run, state=State.LOOKING)
        own.update(state=State.SENT, faults=[as_json(FileFault("unreadable"))])


def _go_through(file: ArrivalFile, run: UUID) -> None:
    shape = shape_of(file)
    refuse_columns(shape.kind, shape.columns)
    book = Spreadsheet(bytes(file.content))
    _note(file, run, done=0, good=0, faulty=0, known=0, makes={})
    ArrivedRow.objects.for_firm(file.firm).filter(file=file).delete()
    scan = Scan(shape.kind, shape.columns, shape.asked)
    for row in _below(book, shape):
        scan.look(row.cells)
        if scan.rows % 5_000 == 0:
            _note(file, run, total=scan.rows)
    asked = scan.settled()
    said = file.asked | {name: getattr(asked, name) for name in ANSWERS}
    if not scan.rows:
        raise FileError(FileFault("no_rows"))
    if doubts := scan.doubts():
        told = [{"about": each.about, "choices": each.choices, "member": each.member, "examples": each.examples}
                for each in doubts]  # fmt: skip
        _note(file, run, state=State.ASKS, total=scan.rows, doubts=told, asked=said)
        return
    _note(file, run, total=scan.rows, asked=said)
    merged = {fault.row: fault for fault in book.merged_across(shape.sheet, shape.header_row)}
    today = clock.now().astimezone(ZoneInfo(file.firm.time_zone)).date()
    header = next((row.cells for row in book.rows(shape.sheet) if row.number == shape.header_row), ())
    entries = Entries(shape.kind, header, shape.columns, asked, today)
    _stage(file, run, entries.read(_below(book, shape)), merged)


def _below(book: Spreadsheet, shape: Shape) -> Iterator[Row]:
    """The rows below the header, but such as repeat it, as printed pages do."""
    header: tuple[str, ...] = ()
    for row in book.rows(shape.sheet):
        if row.number == shape.header_row:
            header = row.cells
        elif row.number > shape.header_row and row.cells != header:
            yield row


def _stage(file: ArrivalFile, run: UUID, rows: Iterator[RowRead], merged: dict[int, FileFault]) -> None:
    shape = shape_of(file)
    maker = OldTreatments(file) if shape.kind == "treatments" else Makers(file, shape.kind)
    counted: Counter[str] = Counter()
    made: Counter[str] = Counter()
    place = 0
    while some := list(islice(rows, STEP)):
        staged = []
        if isinstance(maker, OldTreatments):
            maker.numbers = taken_numbers(
                file, [str(each.entry["number"]) for each in some if "number" in each.entry]
            )
        for each in some:
            place += 1
            row = _staged(file, place, each, maker, merged.get(each.number))
            counted["faulty" if row.faults else "good" if row.waits else "known"] += 1
            made.update(waiting["model"] for waiting in row.waits if waiting["model"] != TERMS)
            staged.append(row)
        with transaction.atomic():
            _note(file, run, done=place, **counted)
            ArrivedRow.objects.bulk_create(staged)
    _note(file, run, state=State.LOOKED, done=place, makes=dict(made), **counted)


def _staged(file: ArrivalFile, place: int, read: RowRead, maker: Any, merged: FileFault | None) -> ArrivedRow:
    faults = [*read.faults, *([merged] if merged else [])]
    rows: list[Any] = []
    if not faults:
        try:
            rows = (
                maker.make(read.entry, read.number)
                if isinstance(maker, OldTreatments)
                else maker.make(read.entry)
            )
            maker.learn(rows)
        except FileError as error:
            faults = [
                FileFault(each.wording_id, each.blanks, read.number, "", each.got) for each in error.faults
            ]
    of = makes(rows)
    treatment = next((UUID(pk) for model, pk in of if model == "treatment"), None)
    return ArrivedRow(
        firm=file.firm,
        file=file,
        place=place,
        row=read.number,
        faults=[as_json(fault) for fault in faults],
        waits=_waiting(rows, maker),
        makes=of,
        treatment=treatment,
    )


def _waiting(rows: list[Any], maker: Any) -> list[dict[str, Any]]:
    terms = [packed_terms(row, maker.terms(row)) for row in rows if isinstance(row, Treatment)]
    return [*(packed(row) for row in rows), *terms]


def as_json(fault: FileFault) -> dict[str, Any]:
    words = {language: fault.say(language) for language in LANGUAGES}
    return {"row": fault.row, "column": fault.column, "got": fault.shown, **words}


def _note(file: ArrivalFile, run: UUID, **values: Any) -> None:
    """Say how far it is. Raises OverrunError where the turn is another's by now."""
    own = ArrivalFile.objects.for_firm(file.firm).filter(pk=file.pk, run=run, state=State.LOOKING)
    if not own.update(noted_at=clock.now(), **values):
        raise OverrunError
    for name, value in values.items():
        setattr(file, name, value)
