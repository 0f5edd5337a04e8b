"""Where marks stand: as long as what they tell, within the picture, and the right way up."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.register.drawing import HEIGHT, WIDTH, bars, nice, placed, points, rows

AMOUNTS = st.lists(st.fractions(0, 10**6), min_size=1, max_size=150)


@given(AMOUNTS)
def test_bars_stay_within_the_picture_and_keep_their_order(values):
    picture = bars(values, ["x"] * len(values))
    for mark in picture.marks:
        assert 0 <= mark.x < mark.x + mark.width <= WIDTH
        assert 0 <= mark.y <= mark.y + mark.height <= HEIGHT
    heights = [mark.height for mark in picture.marks]
    assert [height for _value, height in sorted(zip(values, heights, strict=True))] == sorted(heights)
    assert [mark.x for mark in picture.marks] == sorted(mark.x for mark in picture.marks)


def test_a_bar_of_half_the_amount_is_half_as_high():
    whole, half, none = bars([10, 5, 0], ["a", "b", "c"]).marks
    assert (half.height * 2, none.height) == (whole.height, 0)


def test_the_axis_ends_at_a_round_number_and_few_names_stand_below():
    picture = bars([7] * 50, [str(n) for n in range(50)])
    assert [label.text for label in picture.beside] == ["0", "5", "10"]
    assert [label.text for label in picture.below] == ["0", "13", "26", "39"]
    assert all(label.x + 140 <= WIDTH for label in picture.below)


@pytest.mark.parametrize(
    ("value", "round_one"),
    [("0", 1), ("1", 1), ("1.01", 2), ("2", 2), ("3", 5), ("7", 10), ("10", 10), ("11", 20), ("101", 200)],
)
def test_a_round_number_is_the_next_of_one_two_and_five(value, round_one):
    assert nice(Fraction(value)) == round_one
    assert nice(Fraction(value) / 100) == (Fraction(round_one, 100) if value != "0" else 1)


def test_a_point_above_its_limit_is_over_and_one_on_it_is_not():
    limit = Fraction(10)
    picture = points([Fraction(11), limit, None, Fraction(99)], [limit, limit, limit, None], ["a"] * 4)
    assert [mark.over for mark in picture.marks] == [True, False, False]
    assert len(picture.line.split()) == 3


def test_rows_are_as_long_as_they_count_and_carry_their_number():
    picture = rows([40, 20, 1])
    assert picture.marks[0].width == 2 * picture.marks[1].width
    assert [label.text for label in picture.beside] == ["1", "2", "3"]
    assert [label.text for label in picture.below] == ["40", "20", "1"]


def test_north_is_above_and_east_is_right():
    middle, north, east = placed([(47.0, -122.9, 1), (47.1, -122.9, 1), (47.0, -122.8, 4)], metric=True).marks
    assert north.y < middle.y
    assert (north.x, east.y) == (middle.x, middle.y)
    assert east.x > middle.x
    assert east.width > middle.width


def test_the_scale_is_as_long_as_it_says():
    """At 47 degrees a tenth of a degree of longitude is 7.6 km (sphere of 40,075 km around, from memory)."""
    drawn = placed([(47.0, -122.9, 1), (47.0, -122.8, 1)], metric=True)
    apart = drawn.marks[1].x - drawn.marks[0].x
    assert drawn.length == "1 km"
    assert apart / drawn.drawn == pytest.approx(7.592, rel=0.02)
    assert placed([(47.0, -122.9, 1), (47.0, -122.8, 1)], metric=False).length == "1 mi"


def test_one_place_alone_is_drawn_with_some_ground_around_it():
    drawn = placed([(47.0, -122.9, 3)], metric=False)
    assert drawn.length.endswith("ft")
    assert 0 < drawn.marks[0].x < drawn.width
