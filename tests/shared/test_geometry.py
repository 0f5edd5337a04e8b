"""Slopes: what is exact stays exact."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.geometry import slope_area, slope_factor, square_root
from shared.quantities import Quantity


def test_the_root_of_a_square_is_exact():
    assert square_root(Fraction(25, 16)) == Fraction(5, 4)
    assert square_root(Fraction(0)) == 0


@given(st.fractions(min_value=0, max_value=10**9))
def test_a_root_is_right_to_thirty_decimals(value):
    root = square_root(value)
    step = Fraction(1, 10**30)

    assert root**2 <= value < (root + step) ** 2


def test_a_pitch_of_nine_in_twelve_is_exactly_a_quarter_more():
    assert slope_factor(Fraction(9), Fraction(12)) == Fraction(5, 4)


def test_a_flat_roof_has_the_area_of_its_plan():
    assert slope_area(Quantity("1200", "ft**2"), Fraction(0), Fraction(12)) == Quantity("1200", "ft**2")


def test_the_area_keeps_the_unit_of_the_plan():
    assert slope_area(Quantity("100", "m**2"), Fraction(6), Fraction(12)) == Quantity("111.803", "m**2")


@pytest.mark.parametrize(("rise", "run"), [(-1, 12), (6, 0), (6, -12)])
def test_a_pitch_without_a_run_or_with_a_negative_rise_is_refused(rise, run):
    with pytest.raises(ValueError, match="a pitch needs"):
        slope_factor(Fraction(rise), Fraction(run))
