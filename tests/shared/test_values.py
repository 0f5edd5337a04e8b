"""Small values that are made by the thousand."""

import pytest

from shared.values import Value


class Point(Value, frozen=True):
    x: int
    y: int = 0


def test_values_are_equal_and_hash_alike_if_all_their_fields_do() -> None:
    assert Point(1) == Point(1, 0) != Point(1, 2)
    assert {Point(1), Point(1, 0), Point(1, 2)} == {Point(1), Point(1, 2)}


def test_a_value_has_no_room_for_anything_but_its_fields() -> None:
    with pytest.raises(AttributeError):
        Point(1).z = 3  # type: ignore[attr-defined]


def test_a_value_is_what_it_was_made_as() -> None:
    point = Point(1)
    with pytest.raises(AttributeError):
        point.x = 3  # type: ignore[misc]
    assert point.but(x=3) == Point(3)
    assert point == Point(1)
