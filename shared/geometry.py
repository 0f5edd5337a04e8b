"""Geometry of sloped surfaces.

A surface of one pitch has the area of its plan (its outline seen from above, overhangs included) times
sqrt(1 + (rise / run)^2), whether gable, hip or shed. Source: the right-angled triangle; trade tables of
slope factors print the same (1.118 for a rise of 6 in a run of 12).
"""

from fractions import Fraction
from functools import lru_cache
from math import isqrt

from shared.quantities import Quantity, from_fraction

_PITCHES_AT_HAND = 100
_ROOT_SCALE = 10**30


@lru_cache(maxsize=_PITCHES_AT_HAND)
def square_root(value: Fraction) -> Fraction:
    """The square root: exact for the square of a fraction, else to at least 30 decimals, rounded down.

    Raises ValueError below 0.
    """
    exact = Fraction(isqrt(value.numerator), isqrt(value.denominator))
    if exact * exact == value:
        return exact
    return Fraction(isqrt(value.numerator * _ROOT_SCALE**2 // value.denominator), _ROOT_SCALE)


def slope_factor(rise: Fraction, run: Fraction) -> Fraction:
    """Sloped area per plan area for a pitch of `rise` in `run` (same unit of length for both).

    Raises ValueError if the rise is below 0 or the run not above 0.
    """
    if rise < 0 or run <= 0:
        raise ValueError(f"a pitch needs a rise of 0 or more and a run above 0, got {rise} in {run}")
    return square_root(1 + (rise / run) ** 2)


def slope_area(plan_area: Quantity, rise: Fraction, run: Fraction) -> Quantity:
    """The area along the slope, in the unit of the plan area, to six significant digits.

    Raises ValueError as `slope_factor` does.
    """
    return from_fraction(plan_area.exact * slope_factor(rise, run), plan_area.unit)
