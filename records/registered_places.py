"""Where a registered person's address lies to a site: by an address that is known, else by its position.

An address that is spelled as no list spells it, in a street of the site or of a neighbour, may be a
neighbour's: whether it abuts is then left unknown, so that a person looks.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Any

from shapely.geometry.base import BaseGeometry

from records.ground import ground_of, position_of, said_length, shape_of
from records.models import Neighbour, Parcel, Site
from shared.geodesy import boxes_around, relations
from shared.quantities import Quantity
from shared.streets import folded_street, house_of, same_town, street_alone

FARTHEST = 2000.0
"""Metres; no rule that is on file asks of registered persons beyond half a mile (805 m)."""
_LAST = Fraction(10**9)


@dataclass(frozen=True)
class Placed:
    """A registered person, as a bare row, with the distance and whether the ground abuts; None is unknown."""

    person: Any
    distance: Quantity | None
    abutting: bool | None


class Placing:
    """What is known around a site. `complete` is whether its list of neighbours is said to be so: who is on it
    neither by address nor in a street of it is then no neighbour."""

    def __init__(self, site: Site, complete: bool) -> None:
        self.site = site
        self.complete = complete
        rows = Neighbour.objects.for_firm(site.firm).filter(site=site).select_related("parcel")
        self._neighbours = list(rows)
        self._known: dict[str, list[Neighbour]] = {}
        for each in self._neighbours:
            self._known.setdefault(_house(each), []).append(each)
        self._house = _house(site)
        self._streets = {_street(row) for row in (site, *self._neighbours)} - {""}
        self._ground = ground_of(site)

    def near(self, persons: Iterable[Any]) -> list[Placed]:
        """Those who are or may be near, the nearest first, those of unknown distance last."""
        placed: list[Placed] = []
        by_position: list[tuple[Any, BaseGeometry]] = []
        for person in persons:
            house = _house(person)
            known = house and (house == self._house or house in self._known)
            if known and self._in_town(person):
                placed.append(self._at_a_known_house(person, house))
            elif self._ground is not None and person.latitude and person.longitude:
                if point := self._point_around(person):
                    by_position.append((person, point))
            elif self._in_town(person):
                placed.append(Placed(person, None, self._abutting_unless_listed(person)))
        placed += self._by_position(by_position)
        return sorted(placed, key=lambda each: each.distance.base if each.distance else _LAST)

    def _in_town(self, person: Any) -> bool:
        return same_town(self.site.city, self.site.postcode, person.city, person.postcode)

    def _at_a_known_house(self, person: Any, house: str) -> Placed:
        if house == self._house:
            return Placed(person, said_length(0, self.site.country), True)
        return _as_neighbours(person, self._known[house])

    def _point_around(self, person: Any) -> BaseGeometry | None:
        """Where the person is; None where that is certainly too far."""
        longitude, latitude = float(person.longitude), float(person.latitude)
        inside = any(
            west <= longitude <= east and south <= latitude <= north for west, south, east, north in self._boxes
        )
        return position_of(person.latitude, person.longitude) if inside else None

    def _by_position(self, found: list[tuple[Any, BaseGeometry]]) -> Iterator[Placed]:
        """On a neighbour's parcel as near as that one is, else as far as the point itself."""
        lie = relations(self._ground, [point for _, point in found])
        for (person, point), lies in zip(found, lie, strict=True):
            if lies.distance > FARTHEST:
                continue
            if on := [each for each in self._neighbours if _holds(each.parcel, point)]:
                yield _as_neighbours(person, on)
                continue
            on_the_site = bool(self._ground.area) and lies.distance == 0
            abutting = on_the_site or self._abutting_unless_listed(person)
            yield Placed(person, said_length(lies.distance, self.site.country), abutting)

    def _abutting_unless_listed(self, person: Any) -> bool | None:
        street = _street(person)
        sure = self.complete and street and street not in self._streets
        return False if sure else None

    @cached_property
    def _boxes(self) -> list[tuple[float, float, float, float]]:
        return [box.bounds for box in boxes_around(self._ground, FARTHEST)]


def _holds(parcel: Parcel | None, point: BaseGeometry) -> bool:
    if parcel is None or not (
        parcel.west <= point.x <= parcel.east and parcel.south <= point.y <= parcel.north
    ):
        return False
    return bool(shape_of(parcel).covers(point))


def _house(row: Any) -> str:
    return house_of(row.line1, row.line2)


def _street(row: Any) -> str:
    return street_alone(folded_street(row.line1, row.line2))


def _as_neighbours(person: Any, known: list[Neighbour]) -> Placed:
    """As near as the nearest of those at the address; abutting if one of them does."""
    lengths = [each.distance for each in known if each.distance is not None]
    words = {each.abutting for each in known}
    abutting = True if True in words else None if None in words else False
    return Placed(person, min(lengths, key=lambda each: each.base, default=None), abutting)
