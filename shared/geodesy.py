"""How far pieces of ground lie from one another, edge to edge, and which abut. Pure.

Distances are geodesic, on the ellipsoid of WGS 84. A side of a parcel is the geodesic between its ends, which
is what a surveyor stakes; the straight line in degrees that RFC 7946 has in mind lies 2 cm beside the middle of
a kilometre at 47 degrees north, well within `TOLERANCE`.

Which points are nearest is found on a plane: the azimuthal equidistant projection about the site, in which all
distances from its middle are exact, and others within 3 km of it to a tenth of a millimetre or so (the error of
a distance d at radius r is some d * r**2 / 6R**2). The distance of those two points is then the geodesic one.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import cos, inf, radians
from time import thread_time
from typing import Any

import numpy as np
import shapely
from pyproj import Geod, Proj
from shapely.geometry.base import BaseGeometry

TOLERANCE = 0.3
"""Metres within which two boundaries count as one. Two roundings to six decimals of a degree may come to
0.16 m, and the noise of a survey's own points adds to that; no way that keeps grounds apart is narrower than
a metre (common practice, no source)."""
CORNER = 1.0
"""Metres of shared boundary below which two grounds touch at a corner only: within the tolerance, the sides of
right-angled corners that touch run along each other for 0.6 m, and at 45 degrees for 0.85 m."""
PIECE, MOST_PIECES = 0.05, 20_000
"""Metres of boundary that lie along the other ground or do not, as one; of a long one in larger pieces."""
LEAST = 0.0005
"""Metres; what is nearer touches."""
ELLIPSOID = Geod(ellps="WGS84")
_DEGREE = 110_500.0
"""Metres; no degree of latitude is shorter (110,574 m at the equator), so a box by it is never too small."""


@dataclass(frozen=True)
class Relation:
    """Metres between nearest edges, 0 where they touch or overlap. `abutting` is None where one of both is a
    point, which has no boundary to share. Grounds that touch at a corner abut: telling one more is the safer
    reading of `abutting`, and `touches_at_corner` lets a person decide."""

    distance: float
    abutting: bool | None
    touches_at_corner: bool = False


def relation(site: BaseGeometry, other: BaseGeometry) -> Relation:
    """How two shapes lie to one another."""
    return relations(site, [other])[0]


class TooLongError(Exception):
    """These shapes are too many, or have too many points, to be measured in the time that there is."""


def relations(site: BaseGeometry, others: Sequence[BaseGeometry], seconds: float = inf) -> list[Relation]:
    """How each of the others lies to the site. Raises TooLongError after so many seconds of a processor."""
    if not others:
        return []
    until = thread_time() + seconds
    here, *rest = shapely.transform([site, *others], _plane_about(site))
    there = np.array([None, *rest], dtype=object)[1:]
    shapely.prepare(here)
    metres = _geodesic(shapely.shortest_line(here, there), site)
    shared = _shared_boundary(here, there, until)
    return [
        _relation(float(distance), float(length), bool(here.area and each.area))
        for distance, length, each in zip(metres, shared, there, strict=True)
    ]


class Grounds:
    """Many shapes, of which those near a site are found without looking at each."""

    def __init__(self, shapes: Sequence[BaseGeometry]) -> None:
        self._shapes = list(shapes)
        self._tree = shapely.STRtree(self._shapes)

    def around(self, site: BaseGeometry, metres: float, seconds: float = inf) -> list[tuple[int, Relation]]:
        """The places of those within so many metres of the site, with their relation, the nearest first.

        Raises TooLongError as `relations` does.
        """
        boxes = boxes_around(site, metres)
        places = sorted({int(place) for box in boxes for place in self._tree.query(box)})
        lie = relations(site, [self._shapes[place] for place in places], seconds)
        found = zip(places, lie, strict=True)
        near = [(place, each) for place, each in found if each.distance <= metres]
        return sorted(near, key=lambda pair: (pair[1].distance, pair[0]))


def _relation(distance: float, shared: float, both_have_boundaries: bool) -> Relation:
    touches = distance <= TOLERANCE
    distance = 0.0 if distance < LEAST else distance
    if not both_have_boundaries:
        return Relation(distance, None)
    return Relation(distance, touches, touches and shared < CORNER)


def _plane_about(site: BaseGeometry) -> Any:
    """From degrees to metres on the plane that touches the ellipsoid at the middle of the site."""
    projection = _projection(site)

    def onto(positions: Any) -> Any:
        return np.column_stack(projection(positions[:, 0], positions[:, 1]))

    return onto


def _projection(site: BaseGeometry) -> Proj:
    middle = site.envelope.centroid
    return Proj(proj="aeqd", lon_0=middle.x, lat_0=middle.y, ellps="WGS84")


def _geodesic(lines: Any, site: BaseGeometry) -> Any:
    """Geodesic lengths in metres of lines of two points on the plane about the site."""
    ends = shapely.get_coordinates(lines)
    longitudes, latitudes = _projection(site)(ends[:, 0], ends[:, 1], inverse=True)
    _, _, metres = ELLIPSOID.inv(longitudes[0::2], latitudes[0::2], longitudes[1::2], latitudes[1::2])
    return metres


def _shared_boundary(here: BaseGeometry, there: Any, until: float) -> Any:
    """Metres of either's boundary that run along or within the other."""
    lengths = np.zeros(len(there))
    near = shapely.dwithin(here, there, TOLERANCE) & (shapely.area(there) > 0) & (here.area > 0)
    ground = _Ground(here)
    for place in np.flatnonzero(near):
        if thread_time() > until:
            raise TooLongError
        lengths[place] = max(ground.along(there[place]), _Ground(there[place]).along(here))
    return lengths


class _Ground:
    """What of a boundary runs along or within a piece of ground. To draw the ground wider and cut the boundary
    with that takes a quarter of a minute for a comb of ten thousand points; this looks at pieces one by one."""

    def __init__(self, shape: BaseGeometry) -> None:
        self._shape = shape
        shapely.prepare(shape)

    def along(self, other: BaseGeometry) -> float:
        """Metres of the other's boundary, a piece off at each end at most."""
        west, south, east, north = self._shape.bounds
        box = (west - TOLERANCE, south - TOLERANCE, east + TOLERANCE, north + TOLERANCE)
        boundary = shapely.clip_by_rect(shapely.boundary(other), *box)
        length = max(PIECE, shapely.length(boundary) / MOST_PIECES)
        begins, ends = _sides(shapely.segmentize(boundary, length))
        middles = (begins + ends) / 2
        beside = shapely.intersects_xy(self._shape, middles)
        outside = np.flatnonzero(~beside)
        found = self._tree.query_nearest(
            shapely.points(middles[outside]), max_distance=TOLERANCE, all_matches=False
        )
        beside[outside[found[0]]] = True
        return float(np.hypot(*(ends - begins)[beside].T).sum())

    @cached_property
    def _tree(self) -> Any:
        return shapely.STRtree(shapely.linestrings(np.stack(_sides(shapely.boundary(self._shape)), axis=1)))


def _sides(lines: BaseGeometry) -> tuple[Any, Any]:
    """Where each straight side of the lines begins and ends."""
    points, of_line = shapely.get_coordinates(shapely.get_parts(lines), return_index=True)
    joined = of_line[1:] == of_line[:-1]
    return points[:-1][joined], points[1:][joined]


def boxes_around(site: BaseGeometry, metres: float) -> list[BaseGeometry]:
    """In degrees, and again a turn further where it reaches over the 180th meridian."""
    west, south, east, north = site.bounds
    up = metres / _DEGREE
    widest = min(max(abs(south), abs(north)) + up, 89.9)
    aside = min(metres / (_DEGREE * cos(radians(widest))), 180.0)
    box = (west - aside, south - up, east + aside, north + up)
    turns = [0, *([360] if box[0] < -180 else []), *([-360] if box[2] > 180 else [])]
    return [shapely.box(box[0] + turn, box[1], box[2] + turn, box[3]) for turn in turns]
