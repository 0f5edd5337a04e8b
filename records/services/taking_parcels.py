"""What a file of parcels changes: the parcels, which is the site's own, and who is listed around it."""

from collections.abc import Sequence

from records.ground import position_of, shape_of
from records.imports.faults import refused
from records.imports.parcels import ParcelEntry
from records.models import Neighbour, Parcel, PeopleFile, Site
from records.services.measuring import Lies, join_parcels, measure
from records.services.planned_rows import Outcome, Planned, as_placed, people_of
from records.services.taking_lists import ADDRESS_OF_SITE
from shared.geodesy import Grounds, Relation
from shared.streets import house_of

ADDRESS = ("line1", "line2", *ADDRESS_OF_SITE)


def plan_parcels(file: PeopleFile, entries: Sequence[ParcelEntry], lies: Lies) -> Planned:
    """Parcels of an earlier file of this source that are not in it are gone, with the neighbours they brought.

    Raises FileError where there is neither an own parcel nor a position of the site, or where distances take
    too long to be worked out.
    """
    site, planned = file.site, Planned()
    before = list(Parcel.objects.for_firm(file.firm).filter(site=site).select_related("file"))
    people = people_of(file.firm, site, before)
    placed = {row.pk: as_placed(row) for row in people}
    parcels = _put_in(planned, file, entries, before)
    people = _without_gone(planned, people, parcels)
    own = next((each for each in parcels.values() if each.own), None)
    ground = shape_of(own) if own else position_of(site.latitude, site.longitude)
    if ground is None:
        raise refused("no_ground")
    join_parcels(people, parcels.values())
    near = lies.near(ground, entries, float(file.asked["metres"]))
    people += _listed_around(planned.outcome, file, entries, near, parcels, people, bool(ground.area))
    measure(people, site, ground, lies)
    planned.keep(*(row for row in people if as_placed(row) != placed.get(row.pk)))
    return planned


def suggested_own(site: Site, entries: Sequence[ParcelEntry]) -> str:
    """The number of the parcel that is the site's own by now, has its address, or holds its position."""
    known = site.parcels.filter(own=True, number__in=[each.number for each in entries]).first()
    if known:
        return str(known.number)
    house = house_of(site.line1, site.line2)
    of_house = [each.number for each in entries if house and house_of(each.about.get("line1", "")) == house]
    point = position_of(site.latitude, site.longitude)
    on = Grounds([each.shape for each in entries]).around(point, 0.0) if point is not None else []
    found = of_house or [entries[place].number for place, _ in on]
    return found[0] if len(found) == 1 else ""


def _put_in(
    planned: Planned, file: PeopleFile, entries: Sequence[ParcelEntry], before: Sequence[Parcel]
) -> dict[str, Parcel]:
    """The parcels that stand then, by their numbers."""
    site, outcome, own = file.site, planned.outcome, file.asked.get("own", "")
    rows = {each.number: each for each in before}
    standing: dict[str, Parcel] = {}
    for entry in entries:
        row = rows.pop(entry.number, None)
        wanted = _columns(entry, site) | {"own": entry.number == own}
        if row is None:
            row = Parcel(firm=file.firm, site=site, number=entry.number, file=file, **wanted)
            planned.keep(row)
            outcome.new.append(row.number)
        elif not _become(planned, row, wanted):
            outcome.same += 1
        standing[entry.number] = row
    for row in rows.values():
        if row.file and row.file.source == file.source:
            outcome.gone.append(row.number)
            planned.gone.append(row)
            continue
        if row.own and own:
            _become(planned, row, {"own": False})
        standing[row.number] = row
    return standing


def _become(planned: Planned, row: Parcel, wanted: dict[str, object]) -> bool:
    """Whether the row differs from what is wanted; then it is that, and kept."""
    if all(getattr(row, name) == value for name, value in wanted.items()):
        return False
    for name, value in wanted.items():
        setattr(row, name, value)
    planned.keep(row)
    planned.outcome.changed.append(row.number)
    return True


def _without_gone(planned: Planned, people: list[Neighbour], parcels: dict[str, Parcel]) -> list[Neighbour]:
    """Whom a gone parcel brought is gone with it; whoever else was joined with it is there without one."""
    left = []
    for row in people:
        if row.parcel is not None and row.parcel.number not in parcels:
            if row.file and row.file.kind == PeopleFile.Kind.PARCELS:
                planned.gone.append(row)
                continue
            row.parcel = None
        left.append(row)
    return left


def _columns(entry: ParcelEntry, site: Site) -> dict[str, object]:
    west, south, east, north = entry.shape.bounds
    town = {name: getattr(site, name) for name in ADDRESS_OF_SITE} if entry.about.get("line1") else {}
    address = {name: entry.about.get(name) or town.get(name, "") for name in ADDRESS}
    reach = {"west": west, "south": south, "east": east, "north": north}
    return {"shape": entry.text, **address, **reach}


def _listed_around(
    outcome: Outcome,
    file: PeopleFile,
    entries: Sequence[ParcelEntry],
    near: Sequence[tuple[int, Relation]],
    parcels: dict[str, Parcel],
    people: Sequence[Neighbour],
    has_boundary: bool,
) -> list[Neighbour]:
    """A neighbour for each near parcel on which none is yet."""
    taken, places = {row.parcel_id for row in people}, {place for place, _lies in near}
    far = [each for place, each in enumerate(entries) if place not in places]
    outcome.outside = [label_of(parcels[each.number]) for each in far]
    listed = []
    for place, lies in near:
        parcel = parcels[entries[place].number]
        if parcel.own or (not has_boundary and lies.distance == 0):
            outcome.own.append(label_of(parcel))
        elif parcel.pk not in taken:
            about = {
                name: value for name, value in entries[place].about.items() if name in ("name", "dwelling")
            }
            address = {name: getattr(parcel, name) for name in ADDRESS}
            listed.append(
                Neighbour(firm=file.firm, site=file.site, parcel=parcel, file=file, **address, **about)
            )
            outcome.listed.append(label_of(parcel))
    return listed


def label_of(parcel: Parcel) -> str:
    """Its address with its number, or that it has none."""
    return f"{parcel.line1} ({parcel.number})" if parcel.line1 else str(parcel.without_address)
