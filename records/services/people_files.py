"""A file of people or parcels on its way in: kept, looked at, taken as a whole or dropped.

The libraries of shapes are imported where they are needed: they take a third of a second.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from django.db import transaction

from records.imports.columns import guessed, refuse_columns
from records.imports.faults import FileError, FileFault
from records.imports.people import OF_NEIGHBOURS, OF_REGISTERS, read_people, taken_for
from records.imports.table import Table, read_table
from records.models import Firm, PeopleFile, Site
from records.services.audit import Kind, note
from shared import clock

if TYPE_CHECKING:
    from records.services.taking_lists import Outcome

ALLOWED = {PeopleFile.Kind.NEIGHBOURS: OF_NEIGHBOURS, PeopleFile.Kind.REGISTER: OF_REGISTERS}
Asked = dict[str, Any]


@dataclass(frozen=True)
class Looked:
    """What a file holds and would do. With faults nothing of it can be taken, and `outcome` is None."""

    faults: list[FileFault]
    outcome: "Outcome | None"
    rows: int = 0
    table: Table | None = None
    columns: Sequence[str] = ()
    suggested_own: str = ""
    taken_for: Sequence[tuple[str, str]] = ()
    """Words of the file that are taken for another word."""


class FaultyFileError(Exception):
    """It has faults, or somebody took or dropped it meanwhile: nothing of it was taken."""


class _Undo(Exception):  # noqa: N818 - no error: it takes back what was only tried
    pass


def keep_file(
    data: bytes, kind: str, source: str, as_of: date, by: Any, firm: Firm, site: Site | None, **asked: Any
) -> PeopleFile:
    """Keep a file until somebody has looked at it."""
    said = {"kind": kind, "source": source, "as_of": as_of, "asked": asked}
    digest = sha256(data).hexdigest()
    return PeopleFile.objects.create(firm=firm, site=site, by=by, sha256=digest, content=data, **said)


def look(file: PeopleFile) -> Looked:
    """Read it and try it, and take the try back."""
    try:
        with transaction.atomic():
            looked = _apply(file)
            raise _Undo
    except _Undo:
        return looked
    except FileError as error:
        return Looked(error.faults, None)


@transaction.atomic
def take(file: PeopleFile, by: Any) -> "Outcome":
    """Take all of it in, once. Raises FaultyFileError."""
    waiting = PeopleFile.objects.for_firm(file.firm).filter(pk=file.pk, taken_at=None)
    if waiting.select_for_update().first() is None:
        raise FaultyFileError
    try:
        looked = _apply(file)
    except FileError as error:
        raise FaultyFileError from error
    if looked.outcome is None:
        raise FaultyFileError
    file.rows, file.content, file.taken_at = looked.rows, None, clock.now()
    file.save()
    note(Kind.CREATED, file, firm=file.firm, by=by)
    return looked.outcome


def taken_before(file: PeopleFile) -> PeopleFile | None:
    """The same bytes, taken earlier for the same."""
    same = {"site": file.site, "kind": file.kind, "sha256": file.sha256, "source": file.source}
    taken = PeopleFile.objects.for_firm(file.firm).filter(**same, taken_at__isnull=False)
    return taken.exclude(pk=file.pk).order_by("-taken_at").first()


def _apply(file: PeopleFile) -> Looked:
    content = bytes(file.content)
    if file.kind == PeopleFile.Kind.PARCELS:
        return _apply_parcels(file, content)
    table = read_table(content)
    chosen = file.asked.get("columns") or guessed(table.header, ALLOWED[file.kind])
    columns = [*chosen, *[""] * len(table.header)][: len(table.header)]
    try:
        refuse_columns(columns)
    except FileError as error:
        return Looked(error.faults, None, len(table.rows), table, columns)
    from records.services.taking_lists import take_neighbours, take_register

    entries, faults = read_people(table, columns)
    takes = take_register if file.kind == PeopleFile.Kind.REGISTER else take_neighbours
    outcome = None if faults else takes(file, entries)
    return Looked(faults, outcome, len(entries), table, columns, taken_for=taken_for(table, columns))


def _apply_parcels(file: PeopleFile, content: bytes) -> Looked:
    from records.ground import position_of
    from records.imports.parcels import read_parcels
    from records.services.taking_parcels import suggested_own, take_parcels

    entries, faults = read_parcels(content, position_of(file.site.latitude, file.site.longitude))
    suggested = suggested_own(file.site, entries)
    if faults:
        return Looked(faults, None, len(entries), suggested_own=suggested)
    if (own := file.asked.get("own", "")) and own not in {each.number for each in entries}:
        return Looked(
            [FileFault("no_such_parcel", {"number": own})], None, len(entries), suggested_own=suggested
        )
    return Looked([], take_parcels(file, entries), len(entries), suggested_own=suggested)


@transaction.atomic
def drop(file: PeopleFile, by: Any) -> None:
    """It is not taken, and nothing of it is kept but who dropped it."""
    note(Kind.REMOVED, file, firm=file.firm, by=by)
    file.delete()
