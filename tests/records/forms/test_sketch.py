"""The site's features around what is treated, by direction and distance."""

from math import hypot

from records.forms.sketch import APART, MIDDLE, drawing


def feature(bearing: str = "", distance: str = "", unit: str = "ft") -> dict:
    made = {"bearing": {"value": bearing, "unit": "degree"}, "distance": {"value": distance, "unit": unit}}
    return {name: value for name, value in made.items() if value["value"]}


def test_north_is_up_east_is_right_and_the_farther_stands_farther_out():
    north, east = drawing("", [feature("0", "10"), feature("90", "40")]).drawn
    assert (north.x, east.y) == (MIDDLE, MIDDLE)
    assert north.y < MIDDLE < east.x
    assert MIDDLE - north.y < east.x - MIDDLE


def test_units_are_told_apart():
    near, far = drawing("", [feature("0", "10", "ft"), feature("180", "10", "m")]).drawn
    assert MIDDLE - near.y < far.y - MIDDLE


def test_what_has_no_direction_or_distance_is_listed_and_not_drawn():
    sketch = drawing("", [feature("0"), feature(distance="10"), {}, feature("45", "0")])
    assert [mark.number for mark in sketch.marks] == [1, 2, 3, 4]
    assert [mark.number for mark in sketch.drawn] == [4]


def test_marks_at_one_place_stand_beside_each_other():
    drawn = drawing("", [feature("200", "10")] * 3).drawn
    apart = [hypot(a.x - b.x, a.y - b.y) for a in drawn for b in drawn if a is not b]
    assert min(apart) >= APART


def test_what_could_not_be_read_is_listed_and_not_drawn():
    assert (
        drawing("", [{"distance": {"value": "near", "unit": "ft"}, "bearing": feature("5")["bearing"]}]).drawn
        == []
    )
