"""Distances between pieces of ground, against published geodesics and a library of its own; and which abut.

Parcels are drawn in metres about a place by the library `geographiclib`, which shares no code with what is
tested, and so are the distances that are expected of them.
"""

import math
from collections.abc import Sequence

import pytest
import shapely
from geographiclib.geodesic import Geodesic

from shared.geodesy import CORNER, TOLERANCE, Grounds, Relation, TooLongError, relation, relations

EARTH = Geodesic.WGS84
PLACE = (47.1, -122.9)
Metres = tuple[float, float]


def at(east: float, north: float, place: tuple[float, float] = PLACE) -> Metres:
    """Longitude and latitude so many metres from a place, by direct geodesics."""
    found = EARTH.Direct(*place, math.degrees(math.atan2(east, north)), math.hypot(east, north))
    return found["lon2"], found["lat2"]


def drawn(*corners: Metres, holes: Sequence[Sequence[Metres]] = (), place=PLACE) -> shapely.Polygon:
    inner = [[at(*corner, place) for corner in hole] for hole in holes]
    return shapely.Polygon([at(*corner, place) for corner in corners], inner)


def plot(west: float, south: float, east: float, north: float, **more) -> shapely.Polygon:
    return drawn((west, south), (east, south), (east, north), (west, north), **more)


SITE = plot(0, 0, 30, 40)


@pytest.mark.parametrize(
    ("here", "there", "metres"),
    [
        # GeographicLib, documentation of the JavaScript package, "Examples": Wellington to Salamanca
        ((-41.32, 174.81), (40.96, -5.50), 19_959_679.267),
        # C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013), its direct problem (from memory)
        ((40.0, 0.0), (41.79331020506, 137.84490004377), 10_000_000.0),
    ],
)
def test_the_distance_of_two_points_is_the_published_geodesic(here, there, metres):
    found = relation(shapely.Point(here[::-1]), shapely.Point(there[::-1]))
    assert found.distance == pytest.approx(metres, abs=0.001)


@pytest.mark.parametrize(
    "place", [(0.0, 0.0), PLACE, (-33.9, 151.2), (64.1, -21.9), (82.5, -62.3), (-17.0, 179.9)]
)
@pytest.mark.parametrize(("size", "gap"), [(20, 0.8), (40, 33), (400, 150), (900, 1500)])
def test_edges_are_as_far_apart_as_the_library_finds_them(place, size, gap):
    here = [(-size, -size), (size * 0.7, -size * 0.9), (size, size), (-size * 0.4, size * 1.1)]
    there = [
        (size + gap, -size * 3),
        (size * 3, -size),
        (size * 3, size * 2),
        (size + gap * 1.0001, size * 2.5),
    ]
    found = relation(drawn(*here, place=place), drawn(*there, place=place))
    expected = nearest([at(*each, place) for each in here], [at(*each, place) for each in there])
    assert found.distance == pytest.approx(expected, abs=0.0005)
    assert found.abutting is False


def nearest(here: list[Metres], there: list[Metres]) -> float:
    """The least geodesic distance of two outlines whose sides are geodesics: between those that do not cross it
    is at a corner of one, so each corner is tried against each side of the other."""
    return min(
        to_side(corner, each[place - 1], each[place])
        for corners, each in ((here, there), (there, here))
        for corner in corners
        for place in range(len(each))
    )


def to_side(corner: Metres, begin: Metres, end: Metres) -> float:
    """By golden section along the side, which the distance from a point falls and rises along but once."""
    line = EARTH.InverseLine(begin[1], begin[0], end[1], end[0])

    def metres(share: float) -> float:
        on = line.Position(share * line.s13)
        return EARTH.Inverse(corner[1], corner[0], on["lat2"], on["lon2"], Geodesic.DISTANCE)["s12"]

    low, high, golden = 0.0, 1.0, (math.sqrt(5) - 1) / 2
    for _ in range(32):
        first, second = high - golden * (high - low), low + golden * (high - low)
        low, high = (low, second) if metres(first) < metres(second) else (first, high)
    return min(metres(low), metres(0), metres(1))


def test_sides_that_run_almost_alike_are_as_far_apart_as_at_their_nearer_end():
    fence = drawn((30.5, 0), (40, 0), (40, 40), (30.5 + 1e-4, 40))
    assert relation(SITE, fence).distance == pytest.approx(0.5, abs=0.0005)


@pytest.mark.parametrize(
    ("other", "abutting", "corner"),
    [
        (plot(30, 0, 60, 40), True, False),
        (plot(30, 35, 60, 80), True, False),
        (plot(30.2, 0, 60, 40), True, False),
        (plot(29.8, 0, 60, 40), True, False),
        (plot(30, 40, 60, 80), True, True),
        (drawn((30, 40), (70, 45), (65, 90)), True, True),
        (plot(30, 39.9, 60, 80), True, True),
        (plot(30, 38, 60, 80), True, False),
        (plot(31, 0, 60, 40), False, False),
        (plot(42, 0, 72, 40), False, False),
    ],
    ids=[
        "a whole side", "a part of a side", "a gap of survey noise", "an overlap of survey noise",
        "a corner", "a pointed corner", "a tenth of a metre of a side", "two metres of a side",
        "a footpath of a metre between", "a street of 12 m between",
    ],
)  # fmt: skip
def test_grounds_abut_that_share_boundary_and_not_across_a_way(other, abutting, corner):
    found = relation(SITE, other)
    assert (found.abutting, found.touches_at_corner) == (abutting, corner)
    assert relation(other, SITE).abutting == abutting


def test_a_street_is_as_wide_as_it_was_drawn():
    assert relation(SITE, plot(42, 0, 72, 40)).distance == pytest.approx(12, abs=0.0005)


def test_an_island_abuts_the_ground_around_it_and_only_that():
    around = plot(-50, -50, 80, 90, holes=[[(0, 0), (30, 0), (30, 40), (0, 40)]])
    beyond = plot(80, -50, 100, 90)
    assert relation(SITE, around) == Relation(0.0, True, False)
    assert relation(SITE, beyond).distance == pytest.approx(50, abs=0.0005)


def test_an_island_that_keeps_off_the_sides_of_the_hole_abuts_nothing():
    around = plot(-50, -50, 80, 90, holes=[[(-5, -5), (35, -5), (35, 45), (-5, 45)]])
    found = relation(SITE, around)
    assert found.distance == pytest.approx(5, abs=0.0005)
    assert found.abutting is False


def test_the_nearest_part_of_a_ground_in_several_parts_counts():
    parts = shapely.MultiPolygon([plot(100, 0, 120, 40), plot(30, 10, 45, 20)])
    assert relation(SITE, parts) == Relation(0.0, True, False)
    assert relation(parts, plot(125, 0, 140, 40)).distance == pytest.approx(5, abs=0.0005)


def test_ground_within_the_site_abuts_it_and_not_at_a_corner():
    assert relation(SITE, plot(10, 10, 20, 20)) == Relation(0.0, True, False)
    assert relation(plot(10, 10, 20, 20), SITE) == Relation(0.0, True, False)


def test_of_a_point_nobody_can_tell_whether_it_abuts():
    point = shapely.Point(at(15, 20))
    assert relation(point, plot(30, 0, 60, 40)).abutting is None
    assert relation(point, plot(30, 0, 60, 40)).distance == pytest.approx(15, abs=0.0005)
    assert relation(SITE, point) == Relation(0.0, None)


def test_nothing_is_found_of_nothing():
    assert relations(SITE, []) == []
    assert Grounds([]).around(SITE, 1000) == []


def test_the_index_finds_the_same_as_a_look_at_each():
    plots = [plot(x, y, x + 20, y + 25) for x in range(-400, 400, 21) for y in range(-400, 400, 31)]
    each = enumerate(relations(SITE, plots))
    expected = sorted(
        ((place, one) for place, one in each if one.distance <= 150),
        key=lambda pair: (pair[1].distance, pair[0]),
    )
    found = Grounds(plots).around(SITE, 150)
    assert [place for place, _ in found] == [place for place, _ in expected]
    assert found[0][1].abutting is True
    assert len(found) > 100


@pytest.mark.parametrize("east", [0.0005, -0.0005])
def test_ground_beyond_the_180th_meridian_is_found(east):
    site = shapely.Point((180 - east) if east > 0 else (-180 - east), -17)
    other = shapely.Point((-180 + east) if east > 0 else (180 + east), -17)
    assert [place for place, _ in Grounds([other]).around(site, 200)] == [0]


def test_the_tolerance_is_less_than_what_keeps_grounds_apart():
    assert math.hypot(1e-6, 1e-6) * 111_320 < TOLERANCE < CORNER


def test_what_takes_longer_than_there_is_time_for_is_said_so():
    with pytest.raises(TooLongError):
        relations(SITE, [plot(30, 0, 60, 40)], seconds=0)
    with pytest.raises(TooLongError):
        Grounds([plot(30, 0, 60, 40)]).around(SITE, 50, seconds=0)


@pytest.mark.long
def test_two_combs_of_ten_thousand_points_are_measured_like_plots():
    """Drawn wider, a comb has a disc about each of its teeth, and cutting with that takes minutes."""
    teeth, tooth = 2400, 30 / 2400
    tops = [(tooth * (at + turn), north) for at in range(teeth) for turn, north in ((0, 40), (0.5, 80))]
    tops = [(east + more, north) for east, north in tops for more in (0, tooth / 4)]
    comb = drawn((0, 0), *tops, (30, 40), (30, 0))
    beside = drawn((0, 120), *((east, 120 - north + 40.1) for east, north in tops), (30, 120))
    assert relations(plot(30, 0, 60, 40), [comb], seconds=20)[0].abutting
    (lies,) = relations(comb, [beside], seconds=20)
    assert (round(lies.distance, 6), lies.abutting, lies.touches_at_corner) == (0.1, True, False)
