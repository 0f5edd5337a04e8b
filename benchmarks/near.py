"""Whom one treatment concerns among 5,000 parcels, with an index and by a look at each pair."""

import shapely

from benchmarks.timing import Ratio, compare
from shared.geodesy import Grounds, Relation, relations

SIDE, LANE = 0.0003, 0.00035
"""Degrees; some 33 m by 23 m at 47 degrees north, with lanes between."""
ACROSS, UP = 100, 50
METRES = 91.44
"""100 yards, the farthest that a rule on file asks of neighbours."""


def town() -> list[shapely.Polygon]:
    """5,000 parcels, every other pair wall to wall."""
    corners = [
        (-122.9 + place * LANE - (place % 2) * (LANE - SIDE), 47.1 + row * LANE)
        for row in range(UP)
        for place in range(ACROSS)
    ]
    return [shapely.box(west, south, west + SIDE, south + SIDE) for west, south in corners]


def ratios() -> list[Ratio]:
    parcels = town()
    site = parcels.pop(len(parcels) // 2 + ACROSS // 2)

    def indexed() -> list[tuple[int, Relation]]:
        return Grounds(parcels).around(site, METRES)

    def each_pair() -> list[tuple[int, Relation]]:
        every = enumerate(relations(site, parcels))
        near = [(place, lies) for place, lies in every if lies.distance <= METRES]
        return sorted(near, key=lambda pair: (pair[1].distance, pair[0]))

    if indexed() != each_pair():
        raise AssertionError("the index finds others than a look at each pair")
    return [compare("who is near, among 5,000 parcels", indexed, "each pair", each_pair)]
