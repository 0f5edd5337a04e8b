"""What a stranger's file may hold as a shape, and how each thing that is no ground is refused."""

import json
import math
import tracemalloc

import pytest
import shapely

from shared.geojson import MOST_POINTS, ShapeError, exchanged, parse, read_shape

SQUARE = [[-122.9, 47.1], [-122.899, 47.1], [-122.899, 47.101], [-122.9, 47.101], [-122.9, 47.1]]


def polygon(*rings, **more) -> dict:
    return {"type": "Polygon", "coordinates": list(rings), **more}


def moved(ring, east, north) -> list:
    return [[x + east, y + north] for x, y in ring]


@pytest.mark.parametrize(
    ("value", "kind"),
    [
        (polygon(SQUARE), "Polygon"),
        (
            polygon(SQUARE, crs={"type": "name", "properties": {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}}),
            "Polygon",
        ),
        (polygon([[*each, 12.5] for each in SQUARE]), "Polygon"),
        ({"type": "MultiPolygon", "coordinates": [[SQUARE], [moved(SQUARE, 0.01, 0)]]}, "MultiPolygon"),
        ({"type": "Point", "coordinates": [-122, 47]}, "Point"),
    ],
)
def test_shapes_of_the_standard_are_read(value, kind):
    assert read_shape(parse(json.dumps(value))).geom_type == kind


def test_a_hole_is_no_part_of_the_ground():
    hole = [[-122.8996, 47.1004], [-122.8994, 47.1004], [-122.8994, 47.1006], [-122.8996, 47.1004]]
    assert not read_shape(polygon(SQUARE, hole)).contains(shapely.Point(-122.89945, 47.10045))


CROSSING = [[-122.9, 47.1], [-122.899, 47.101], [-122.899, 47.1], [-122.9, 47.101], [-122.9, 47.1]]


@pytest.mark.parametrize(
    ("value", "fault"),
    [
        (None, "not_geojson"),
        ([], "not_geojson"),
        ({"coordinates": [1, 2]}, "not_geojson"),
        ({"type": "Polygon"}, "not_geojson"),
        ({"type": "Polygon", "coordinates": "all"}, "not_geojson"),
        (polygon("all"), "not_geojson"),
        ({"type": "MultiPolygon", "coordinates": [[SQUARE], 3]}, "not_geojson"),
        ({"type": "LineString", "coordinates": SQUARE}, "type"),
        ({"type": ["Polygon"], "coordinates": SQUARE}, "type"),
        ({"type": "Polygon", "coordinates": []}, "empty"),
        ({"type": "MultiPolygon", "coordinates": [[]]}, "empty"),
        (polygon(SQUARE[:-1]), "open_ring"),
        (polygon([SQUARE[0], SQUARE[1], SQUARE[0]]), "open_ring"),
        (polygon(CROSSING), "crossing"),
        (polygon([SQUARE[0]] * 5), "crossing"),
        ({"type": "MultiPolygon", "coordinates": [[SQUARE], [SQUARE]]}, "crossing"),
        (polygon([*SQUARE[:2], ["a", 1], *SQUARE[3:]]), "not_a_position"),
        (polygon([*SQUARE[:2], [True, False], *SQUARE[3:]]), "not_a_position"),
        (polygon([*SQUARE[:2], [-122.9], *SQUARE[3:]]), "not_a_position"),
        (polygon([each[::-1] for each in SQUARE]), "order"),
        (polygon([[x * 9000, y * 9000] for x, y in SQUARE]), "out_of_range"),
        (polygon([*SQUARE[:2], [math.nan, 47.1], *SQUARE[3:]]), "out_of_range"),
        (polygon([*SQUARE[:2], [math.inf, 47.1], *SQUARE[3:]]), "out_of_range"),
        (polygon([*SQUARE[:2], [10**400, 47.1], *SQUARE[3:]]), "out_of_range"),
        (polygon([[0, 0], [1, 0], [1, 1], [0, 0]]), "too_large"),
        (polygon(SQUARE, crs={"type": "name", "properties": {"name": "EPSG:2927"}}), "other_system"),
        (polygon(SQUARE, crs="EPSG:2927"), "other_system"),
    ],
)
def test_what_is_no_ground_is_refused_with_its_reason(value, fault):
    with pytest.raises(ShapeError) as refused:
        read_shape(value)
    assert refused.value.wording_id == fault
    assert refused.value.say("en") == str(refused.value)
    assert refused.value.say("es") != str(refused.value)


def circle(points: int) -> list:
    turns = [2 * math.pi * n / points for n in range(points)]
    ring = [[-122.9 + 0.001 * math.cos(turn), 47.1 + 0.001 * math.sin(turn)] for turn in turns]
    return [*ring, ring[0]]


def test_as_many_points_as_are_allowed_are_read_and_one_more_is_refused():
    assert read_shape(polygon(circle(MOST_POINTS - 1))).is_valid
    with pytest.raises(ShapeError) as refused:
        read_shape(polygon(circle(MOST_POINTS)))
    assert refused.value.wording_id == "too_many_points"


def test_of_a_million_points_no_more_are_built_than_are_allowed():
    ring = [[-122.9, 47.1]] * 1_000_000
    tracemalloc.start()
    with pytest.raises(ShapeError) as refused:
        read_shape(polygon(ring))
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert refused.value.wording_id == "too_many_points"
    assert most < 4_000_000


def test_a_star_that_crosses_itself_at_each_step_is_refused():
    ring = circle(MOST_POINTS - 2)[:-1]
    star = [ring[(place * 4001) % len(ring)] for place in range(len(ring))]
    with pytest.raises(ShapeError) as refused:
        read_shape(polygon([*star, star[0]]))
    assert refused.value.wording_id == "crossing"


@pytest.mark.parametrize(
    "text", ["", "{", "NaN", '{"type": Infinity}', "[" * 100_000, b"\xff\xfe\x00", "1" * 5000]
)
def test_what_is_no_json_is_refused(text):
    with pytest.raises(ShapeError) as refused:
        parse(text)
    assert refused.value.wording_id == "not_json"


def test_a_shape_can_be_looked_at_as_if_its_numbers_were_exchanged():
    assert exchanged(read_shape({"type": "Point", "coordinates": [-80, 28]})) == shapely.Point(28, -80)
