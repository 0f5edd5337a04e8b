"""A file of people or parcels on its way in: kept, looked at, taken as a whole or dropped.

The libraries of shapes are imported where they are needed: they take a third of a second.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from django.db import transaction

from records.imports.columns import guessed, refuse_columns
from records.imports.faults import FileError, FileFault
from records.imports.people import OF_NEIGHBOURS, OF_REGISTERS, read_people, taken_for
from records.imports.table import Table, read_table
from records.models import Firm, PeopleFile, Register, Site
from records.services.audit import Kind, note
from shared import clock

if TYPE_CHECKING:
    from records.services.measuring import Lies
    from records.services.planned_rows import Outcome, Planned

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


Plan = Callable[["Lies"], tuple[Register | None, "Planned"]]


def keep_file(
    data: bytes, kind: str, source: str, as_of: date, by: Any, firm: Firm, site: Site | None, **asked: Any
) -> PeopleFile:
    """Keep a file until somebody has looked at it."""
    said = {"kind": kind, "source": source, "as_of": as_of, "asked": asked}
    digest = sha256(data).hexdigest()
    return PeopleFile.objects.create(firm=firm, site=site, by=by, sha256=digest, content=data, **said)


def look(file: PeopleFile) -> Looked:
    """Read it and work out what it would do. The own parcel is the suggested one while nobody has chosen."""
    from records.services.measuring import Lies

    try:
        looked, plan = _read(file)
        if looked.suggested_own and "own" not in file.asked:
            file.asked["own"] = looked.suggested_own
        return looked if plan is None else replace(looked, outcome=plan(Lies())[1].outcome)
    except FileError as error:
        return Looked(error.faults, None)


def take(file: PeopleFile, by: Any) -> "Outcome":
    """Take all of it in, once. Raises FaultyFileError.

    What takes long is done before anything is locked: the file is read, and grounds are measured.
    """
    from records.services.measuring import Lies

    lies = Lies()
    try:
        looked, plan = _read(file)
        if plan is None:
            raise FaultyFileError
        plan(lies)
        return _taken(file, looked.rows, plan, lies, by)
    except FileError as error:
        raise FaultyFileError from error


@transaction.atomic
def _taken(file: PeopleFile, rows: int, plan: Plan, lies: "Lies", by: Any) -> "Outcome":
    from records.services.planned_rows import write_planned

    waiting = PeopleFile.objects.for_firm(file.firm).filter(pk=file.pk, taken_at=None)
    if waiting.select_for_update().first() is None:
        raise FaultyFileError
    file.register, planned = plan(lies)
    if file.register:
        file.register.save()
    write_planned(planned, file.firm)
    file.rows, file.content, file.taken_at = rows, None, clock.now()
    file.save()
    note(Kind.CREATED, file, firm=file.firm, by=by)
    return planned.outcome


def taken_before(file: PeopleFile) -> PeopleFile | None:
    """The same bytes, taken earlier for the same."""
    same = {"site": file.site, "kind": file.kind, "sha256": file.sha256, "source": file.source}
    taken = PeopleFile.objects.for_firm(file.firm).filter(**same, taken_at__isnull=False)
    return taken.exclude(pk=file.pk).order_by("-taken_at").first()


def _read(file: PeopleFile) -> tuple[Looked, Plan | None]:
    """What the file holds, and how what it would do is worked out, unless it has faults. Raises FileError."""
    content = bytes(file.content or b"")
    if file.kind == PeopleFile.Kind.PARCELS:
        return _read_parcels(file, content)
    table = read_table(content)
    chosen = file.asked.get("columns") or guessed(table.header, ALLOWED[file.kind])
    columns = [*chosen, *[""] * len(table.header)][: len(table.header)]
    try:
        refuse_columns(columns)
    except FileError as error:
        return Looked(error.faults, None, len(table.rows), table, columns), None
    from records.services.taking_lists import plan_neighbours, plan_register

    entries, faults = read_people(table, columns)
    looked = Looked(faults, None, len(entries), table, columns, taken_for=taken_for(table, columns))
    if faults:
        return looked, None
    if file.kind == PeopleFile.Kind.REGISTER:
        return looked, lambda _lies: plan_register(file, entries)
    return looked, lambda lies: (None, plan_neighbours(file, entries, lies))


def _read_parcels(file: PeopleFile, content: bytes) -> tuple[Looked, Plan | None]:
    from records.ground import position_of
    from records.imports.parcels import read_parcels
    from records.services.taking_parcels import plan_parcels, suggested_own

    entries, faults = read_parcels(content, position_of(file.site.latitude, file.site.longitude))
    suggested, own = suggested_own(file.site, entries), file.asked.get("own", "")
    if not faults and own and own not in {each.number for each in entries}:
        faults = [FileFault("no_such_parcel", {"number": own})]
    looked = Looked(faults, None, len(entries), suggested_own=suggested)
    return looked, None if faults else lambda lies: (None, plan_parcels(file, entries, lies))


@transaction.atomic
def drop(file: PeopleFile, by: Any) -> None:
    """It is not taken, and nothing of it is kept but who dropped it."""
    note(Kind.REMOVED, file, firm=file.firm, by=by)
    file.delete()
