"""Distances of a site's neighbours, worked out from the shapes of the grounds. Nothing is written here."""

from collections.abc import Iterable, Sequence

from shapely.geometry.base import BaseGeometry

from records.ground import said_length, shape_of
from records.imports.faults import refused
from records.imports.parcels import ParcelEntry
from records.models import Neighbour, Parcel, Site
from shared.geodesy import Grounds, Relation, TooLongError, relations
from shared.streets import house_of

Known = Neighbour.Known
MOST_SECONDS = 10.0
"""Of a processor: five thousand parcels of a town take two or three."""


class Lies:
    """How pieces of ground lie to a site's. Each is worked out once, so that what was worked out while others
    might write need not be worked out again while they may not."""

    def __init__(self) -> None:
        self._of: dict[tuple[bytes, str], Relation] = {}
        self._near: dict[tuple[bytes, float], list[tuple[int, Relation]]] = {}

    def near(
        self, ground: BaseGeometry, entries: Sequence[ParcelEntry], metres: float
    ) -> list[tuple[int, Relation]]:
        """The places of those entries that are so near; of one file alone. Raises FileError."""
        key = (ground.wkb, metres)
        if key not in self._near:
            try:
                shapes = Grounds([each.shape for each in entries])
                self._near[key] = shapes.around(ground, metres, MOST_SECONDS)
            except TooLongError as error:
                raise refused("takes_too_long") from error
            self._of |= {(ground.wkb, entries[place].text): lies for place, lies in self._near[key]}
        return self._near[key]

    def of(self, ground: BaseGeometry, parcels: Sequence[Parcel]) -> list[Relation]:
        """Raises FileError."""
        keys = [(ground.wkb, each.shape) for each in parcels]
        new = {key: each for key, each in zip(keys, parcels, strict=True) if key not in self._of}
        if new:
            shapes = [shape_of(each) for each in new.values()]
            try:
                self._of |= dict(zip(new, relations(ground, shapes, MOST_SECONDS), strict=True))
            except TooLongError as error:
                raise refused("takes_too_long") from error
        return [self._of[key] for key in keys]


def join_parcels(people: Iterable[Neighbour], parcels: Iterable[Parcel]) -> None:
    """Neighbours without a parcel get the one of their address."""
    of_others = [each for each in parcels if not each.own and each.line1]
    by_house = {house: each for each in of_others if (house := house_of(each.line1, each.line2))}
    for row in people:
        if row.parcel is None and row.line1:
            row.parcel = by_house.get(house_of(row.line1, row.line2))


def measure(people: Iterable[Neighbour], site: Site, ground: BaseGeometry | None, lies: Lies) -> None:
    """Work out distance and abutting of all who have a parcel; what was entered for others stays.

    Raises FileError where that takes too long.
    """
    rows = [each for each in people if each.parcel is not None] if ground is not None else []
    for row, lie in zip(rows, lies.of(ground, [each.parcel for each in rows]) if rows else [], strict=True):
        row.distance = said_length(lie.distance, site.country)
        row.abutting = row.abutting if lie.abutting is None else lie.abutting
        row.touches_at_corner = lie.touches_at_corner
        row.known_by = Known.PARCELS if ground.area else Known.POSITION
