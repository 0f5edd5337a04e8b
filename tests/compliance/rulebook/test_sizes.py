"""Sizes that rules compare: exact inside, and shown with as few digits as tell them apart."""

from datetime import datetime
from fractions import Fraction

import pytest

from compliance.rulebook.bounds import Bounds, order
from compliance.rulebook.sizes import Exact, elapsed
from shared.quantities import Quantity

START = datetime.fromisoformat("2026-09-14T09:12:00-07:00")


def gallons(value: str, digits: int = 6) -> Exact:
    return Exact(Fraction(value), "gal", digits)


def test_a_computed_size_is_shown_with_six_digits() -> None:
    third = gallons("10/3")
    assert (third.say("en"), third.as_json()) == ("3.33333 gal", {"value": "3.33333", "unit": "gal"})


def test_a_size_of_too_many_digits_is_told_in_words() -> None:
    vast = gallons("1e12")
    assert (vast.as_json(), vast.say("es")) == ("more than 999999999999 gal", "más de 999999999999 gal")
    assert vast.told_apart_from(Quantity("999999999999", "gal")) == vast


def test_a_size_is_told_apart_from_what_it_is_not() -> None:
    bound = Quantity("1.2", "gal")
    assert gallons("1.2000001").told_apart_from(bound).say("en") == "1.2000001 gal"
    assert gallons("1.2").told_apart_from(bound) == gallons("1.2")
    assert gallons("1.2").told_apart_from(Quantity("1", "lb")) == gallons("1.2")
    assert gallons("1.2").told_apart_from(2) == gallons("1.2")
    hair = gallons("1.2").value + Fraction(1, 10**15)
    assert Exact(hair, "gal").told_apart_from(bound).digits == 21


def test_time_that_passed_is_told_in_hours_and_minutes_and_is_nothing_backwards() -> None:
    later = datetime.fromisoformat("2026-09-15T11:25:00-07:00")
    assert elapsed(START, later, "hour").say("en") == "26 h 13 min"
    assert elapsed(later, START, "hour").value == 0


def test_what_can_not_be_set_against_each_other_is_refused() -> None:
    for other in (Quantity("1", "lb"), 3):
        with pytest.raises(TypeError):
            order(gallons("1"), other)


def test_bounds_say_which_sides_they_have() -> None:
    low, high = Quantity("2", "mph"), Quantity("10", "mph")
    assert Bounds(low, high).say("es") == "al menos 2 mi/h, como máximo 10 mi/h"
    assert (Bounds(low, high).seen, Bounds(low).seen, Bounds(max=high).seen) == (Bounds(low, high), low, high)
    assert (Bounds(low).unit, Bounds(max=3).unit, Bounds(low, high).hold(high)) == ("mph", None, True)
    assert not Bounds(low).hold(Quantity("1", "mph"))
