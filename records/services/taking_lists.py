"""What a list of people changes: what is on it stands, what an earlier one of its source had alone is gone."""

from collections.abc import Sequence
from typing import Any

from records.ground import ground_of
from records.imports.people import Entry, key_of
from records.models import Neighbour, Parcel, PeopleFile, Register, RegisteredPerson
from records.models.firms import Address
from records.services.measuring import Lies, join_parcels, measure
from records.services.planned_rows import Planned, as_placed, people_of
from shared.quantities import Quantity
from shared.streets import house_of

ADDRESS_OF_SITE = ("city", "region", "postcode", "country")


def plan_neighbours(file: PeopleFile, entries: Sequence[Entry], lies: Lies) -> Planned:
    """Rows that were entered by hand, or by a list of another source, are changed by it but never taken out.

    Raises FileError where distances take too long to be worked out.
    """
    site, planned = file.site, Planned()
    of_site = {name: getattr(site, name) for name in ADDRESS_OF_SITE}
    parcels = list(Parcel.objects.for_firm(file.firm).filter(site=site))
    people = people_of(file.firm, site, parcels)
    placed = {row.pk: as_placed(row) for row in people}
    people = _merge(
        planned,
        people,
        [{**of_site, **entry} for entry in entries],
        lambda: Neighbour(firm=file.firm, site=site, known_by=Neighbour.Known.LISTED, file=file),
        lambda row: row.file is not None and (row.file.kind, row.file.source) == (file.kind, file.source),
    )
    join_parcels(people, parcels)
    measure(people, site, ground_of(site), lies)
    planned.keep(*(row for row in people if as_placed(row) != placed.get(row.pk)))
    return planned


def plan_register(file: PeopleFile, entries: Sequence[Entry]) -> tuple[Register, Planned]:
    """The register of that source is then as of that day and holds those that the file names."""
    register = Register.objects.for_firm(file.firm).filter(**_source(file)).first()
    register = register or Register(firm=file.firm, **_source(file))
    register.name, register.as_of = file.asked["name"], file.as_of
    rows = list(RegisteredPerson.objects.for_firm(file.firm).filter(register_id=register.pk))
    country, planned = {"country": file.firm.country}, Planned()
    _merge(
        planned,
        rows,
        [{**country, **entry} for entry in entries],
        lambda: RegisteredPerson(firm=file.firm, register=register),
        lambda row: True,
    )
    return register, planned


def _source(file: PeopleFile) -> dict[str, Any]:
    return {"authority": file.asked["authority"], "source": file.source}


def _merge(planned: Planned, rows: list[Any], entries: list[Entry], blank: Any, of_this_list: Any) -> list[Any]:
    """The rows that stand then."""
    outcome, standing = planned.outcome, []
    by_key = {key_of(_as_entry(row)): row for row in rows}
    wanted = {key_of(entry) for entry in entries}
    at_doors: dict[Any, list[Any]] = {}
    for key, row in by_key.items():
        at_doors.setdefault(_door(_as_entry(row)), []).append(key)
    for entry in entries:
        at_door = at_doors.get(_door(entry), [])
        row = by_key.pop(key_of(entry), None) or _whose_name_was_missing(by_key, at_door, entry, wanted)
        kept = outcome.new if row is None else outcome.changed
        standing.append(row := row or blank())
        if _write(row, entry):
            planned.keep(row)
            kept.append(label(row))
        else:
            outcome.same += 1
    for row in by_key.values():
        if of_this_list(row):
            outcome.gone.append(label(row))
            planned.gone.append(row)
        else:
            standing.append(row)
    return standing


def _whose_name_was_missing(by_key: dict[Any, Any], at_door: list[Any], entry: Entry, wanted: set[Any]) -> Any:
    """The one row at the entry's door, if it has a number, one of both has no name, and no
    other entry means that row."""
    left = [key for key in at_door if key in by_key]
    if not house_of(entry.get("line1", "")) or len(left) != 1 or left[0] in wanted:
        return None
    if by_key[left[0]].name and entry.get("name"):
        return None
    return by_key.pop(left[0])


def _door(entry: Entry) -> Any:
    """What makes two entries the same door, whoever lives there."""
    return key_of({**entry, "name": ""})


def _write(row: Any, entry: Entry) -> bool:
    """Whether the entry says anything that the row does not."""
    values = {name: _value(row, name, value) for name, value in entry.items()}
    differing = {name: value for name, value in values.items() if getattr(row, name) != value}
    for name, value in differing.items():
        setattr(row, name, value)
    return bool(differing)


def _value(row: Any, name: str, value: Any) -> Any:
    """A distance as a quantity; one that was worked out from parcels is better than a list's."""
    if name not in ("distance", "abutting") or not isinstance(row, Neighbour):
        return value
    if row.known_by in (Neighbour.Known.PARCELS, Neighbour.Known.POSITION) and getattr(row, name) is not None:
        return getattr(row, name)
    return Quantity(*value.split(" ", 1)) if name == "distance" else value


def _as_entry(row: Any) -> Entry:
    names = ("line1", "line2", "city", "postcode", "name", "latitude", "longitude")
    return {name: getattr(row, name, "") for name in names}


def label(row: Address) -> str:
    """An address on one line."""
    return ", ".join(part for part in (row.line1, row.line2, row.city) if part)
