"""Where a registered person's address lies to a site: by an address that is known, else by its position.

An address that is spelled as no list spells it, in a street of the site or of a neighbour, may be a
neighbour's: whether it abuts is then left unknown, so that a person looks.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from shapely.geometry.base import BaseGeometry

from records.ground import ground_of, position_of, said_length, shape_of
from records.models import Neighbour, Parcel, RegisteredPerson, Site
from records.models.firms import Address
from shared.geodesy import relation
from shared.quantities import Quantity
from shared.streets import folded_street, same_town, street_alone

FARTHEST = 2000.0
"""Metres; no rule that is on file asks of registered persons beyond half a mile (805 m)."""


@dataclass(frozen=True)
class Placed:
    """A registered person with the distance and whether the ground abuts; None is unknown."""

    person: RegisteredPerson
    distance: Quantity | None
    abutting: bool | None


class Placing:
    """What is known around a site. `complete` is whether its list of neighbours is said to be so: who is on it
    neither by address nor in a street of it is then no neighbour."""

    def __init__(self, site: Site, complete: bool) -> None:
        self.site = site
        self.complete = complete
        self._known: dict[str, list[Neighbour]] = {}
        for each in Neighbour.objects.for_firm(site.firm).filter(site=site):
            self._known.setdefault(_house(each), []).append(each)
        self._streets = {street_alone(house) for house in (_house(site), *self._known) if house}

    def near(self, persons: Iterable[RegisteredPerson]) -> list[Placed]:
        """Those who are or may be near, the nearest first, those of unknown distance last."""
        placed = [found for each in persons if (found := self.place(each))]
        return sorted(placed, key=lambda each: each.distance.base if each.distance else Fraction(int(FARTHEST)))

    def place(self, person: RegisteredPerson) -> Placed | None:
        """None where the person is certainly not near."""
        house = _house(person)
        point = position_of(person.latitude, person.longitude)
        in_town = same_town(self.site.city, self.site.postcode, person.city, person.postcode)
        if house and in_town and house == _house(self.site):
            return Placed(person, said_length(0, self.site.country), True)
        if house and in_town and house in self._known:
            return _as_neighbours(person, self._known[house])
        if point is not None and self._ground is not None:
            return self._by_position(person, point)
        if not in_town:
            return None
        return Placed(person, None, self._abutting_unless_listed(house))

    def _by_position(self, person: RegisteredPerson, point: BaseGeometry) -> Placed | None:
        holding = self._parcel_around(point)
        lies = relation(self._ground, shape_of(holding) if holding else point)
        if lies.distance > FARTHEST:
            return None
        abutting = lies.abutting if holding else self._abutting_unless_listed(_house(person))
        return Placed(person, said_length(lies.distance, self.site.country), abutting)

    def _abutting_unless_listed(self, house: str) -> bool | None:
        sure = self.complete and house and street_alone(house) not in self._streets
        return False if sure else None

    def _parcel_around(self, point: BaseGeometry) -> Parcel | None:
        around = {"west__lte": point.x, "east__gte": point.x, "south__lte": point.y, "north__gte": point.y}
        parcels = Parcel.objects.for_firm(self.site.firm).filter(site=self.site, **around)
        return next((each for each in parcels if shape_of(each).covers(point)), None)

    @cached_property
    def _ground(self) -> BaseGeometry | None:
        return ground_of(self.site)


def _house(row: Address) -> str:
    return folded_street(row.line1, row.line2)


def _as_neighbours(person: RegisteredPerson, known: list[Neighbour]) -> Placed:
    """As near as the nearest of those at the address; abutting if one of them does."""
    lengths = [each.distance for each in known if each.distance is not None]
    words = {each.abutting for each in known}
    abutting = True if True in words else None if None in words else False
    return Placed(person, min(lengths, key=lambda each: each.base, default=None), abutting)
