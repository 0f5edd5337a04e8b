"""Take parcels in, say which is the site's own, and list who is around it."""

from collections.abc import Sequence

from records.ground import ground_of, position_of
from records.imports.faults import refused
from records.imports.parcels import ParcelEntry
from records.models import Neighbour, Parcel, PeopleFile, Site
from records.services.measuring import join_parcels, measure
from records.services.taking_lists import ADDRESS_OF_SITE, Outcome
from shared.geodesy import Grounds
from shared.streets import house_of

ADDRESS = ("line1", "line2", *ADDRESS_OF_SITE)


def take_parcels(file: PeopleFile, entries: Sequence[ParcelEntry]) -> Outcome:
    """Parcels of an earlier file of this source that are not in it are gone, with the neighbours they brought.

    Raises FileError where there is neither an own parcel nor a position of the site.
    """
    site = file.site
    outcome = _put_in(file, entries, own=file.asked.get("own", ""))
    join_parcels(site)
    _list_around(file, entries, float(file.asked["metres"]), outcome)
    measure(site)
    return outcome


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


def _put_in(file: PeopleFile, entries: Sequence[ParcelEntry], own: str) -> Outcome:
    site, outcome = file.site, Outcome()
    rows = {each.number: each for each in Parcel.objects.for_firm(file.firm).filter(site=site)}
    new, changed = [], []
    for entry in entries:
        row = rows.pop(entry.number, None)
        wanted = _columns(entry, site) | {"own": entry.number == own}
        if row is None:
            new.append(Parcel(firm=file.firm, site=site, number=entry.number, file=file, **wanted))
        elif any(getattr(row, name) != value for name, value in wanted.items()):
            changed.append((row, wanted))
        else:
            outcome.same += 1
    for row in rows.values():
        if row.file and row.file.source == file.source:
            outcome.gone.append(row.number)
            row.neighbours.filter(file__kind=PeopleFile.Kind.PARCELS).delete()
            row.delete()
        elif row.own and own:
            changed.append((row, {"own": False}))
    for row, wanted in changed:
        for name, value in wanted.items():
            setattr(row, name, value)
        row.save()
    Parcel.objects.bulk_create(new)
    outcome.new, outcome.changed = [each.number for each in new], [row.number for row, _ in changed]
    return outcome


def _columns(entry: ParcelEntry, site: Site) -> dict[str, object]:
    west, south, east, north = entry.shape.bounds
    town = {name: getattr(site, name) for name in ADDRESS_OF_SITE} if entry.about.get("line1") else {}
    address = {name: entry.about.get(name) or town.get(name, "") for name in ADDRESS}
    reach = {"west": west, "south": south, "east": east, "north": north}
    return {"shape": entry.text, **address, **reach}


def _list_around(file: PeopleFile, entries: Sequence[ParcelEntry], metres: float, outcome: Outcome) -> None:
    """A neighbour for each parcel within the distance on which none is yet."""
    site = file.site
    ground = ground_of(site)
    if ground is None:
        raise refused("no_ground")
    rows = {each.number: each for each in Parcel.objects.for_firm(file.firm).filter(site=site)}
    taken = set(Neighbour.objects.for_firm(file.firm).filter(site=site).values_list("parcel_id", flat=True))
    around = list(Grounds([each.shape for each in entries]).around(ground, metres))
    near = {place for place, _lies in around}
    outcome.outside = [label_of(rows[each.number]) for place, each in enumerate(entries) if place not in near]
    for place, lies in around:
        parcel = rows[entries[place].number]
        if parcel.own or (not ground.area and lies.distance == 0):
            outcome.own.append(label_of(parcel))
            continue
        if parcel.pk in taken:
            continue
        about = {
            name: entries[place].about[name] for name in ("name", "dwelling") if name in entries[place].about
        }
        address = {name: getattr(parcel, name) for name in ADDRESS}
        Neighbour(firm=file.firm, site=site, parcel=parcel, file=file, **address, **about).save()
        outcome.listed.append(label_of(parcel))


def label_of(parcel: Parcel) -> str:
    """Its address with its number, or that it has none."""
    return f"{parcel.line1} ({parcel.number})" if parcel.line1 else str(parcel.without_address)
