"""One quantity: digits as entered and a unit, with exact conversion and comparison."""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Protocol

from shared.quantities.errors import QuantityError, unknown_unit, wrong_dimension
from shared.quantities.units import UNITS
from shared.quantities.wordings import DIMENSIONS
from shared.wording import shortened

_VALUE = re.compile(r"-?(0|[1-9][0-9]{0,11})(\.[0-9]{1,9})?")
_MOST_DECIMALS = 9


@dataclass(frozen=True)
class Quantity:
    """A value as entered and a unit of the table; equal only if both are written alike.

    Only a temperature may be below 0, and an area must be above 0. Raises QuantityError.
    """

    value: str
    unit: str

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise unknown_unit(self.unit, ())
        if not _VALUE.fullmatch(self.value):
            raise QuantityError("quantity/not_a_value", {"value": shortened(self.value)})
        if self.value.startswith("-") and self.dimension != "temperature":
            kind = DIMENSIONS[self.dimension]
            raise QuantityError("quantity/below_zero", {"kind": kind, "got": self})
        if self.dimension == "area" and not self.exact:
            raise QuantityError("quantity/zero_area", {"got": self})

    @property
    def dimension(self) -> str:
        """The dimension's name, as in the unit table."""
        return UNITS[self.unit].dimension

    @cached_property
    def exact(self) -> Fraction:
        """The value in the quantity's own unit."""
        return Fraction(*self._digits_and_scale)

    @cached_property
    def base(self) -> Fraction:
        """The value in the base unit of its dimension (`BASE_UNITS`)."""
        return Fraction(*self.base_ratio)

    @cached_property
    def base_ratio(self) -> tuple[int, int]:
        """`base` as numerator and denominator, not reduced: what comparisons need, at less cost."""
        digits, scale = self._digits_and_scale
        unit = UNITS[self.unit]
        times, over = unit.ratio
        above, below = digits * times, scale * over
        if not unit.offset:
            return above, below
        offset = unit.offset
        return above * offset.denominator + offset.numerator * below, below * offset.denominator

    @property
    def _digits_and_scale(self) -> tuple[int, int]:
        whole, _, decimals = self.value.partition(".")
        return int(whole + decimals), 10 ** len(decimals)

    def to(self, unit: str) -> Fraction:
        """The exact value in another unit of the same dimension. Raises QuantityError."""
        if unit == self.unit:
            return self.exact
        if unit not in UNITS:
            raise unknown_unit(unit, (self.dimension,))
        target = UNITS[unit]
        if target.dimension != self.dimension:
            raise wrong_dimension(self, self.unit, (target.dimension,))
        return (self.base - target.offset if target.offset else self.base) / target.factor

    def as_json(self) -> dict[str, str]:
        """The quantity as it stands in a treatment document."""
        return {"value": self.value, "unit": self.unit}

    def say(self, language: str) -> str:
        """The quantity as a person reads it: `2600 ft²`. Digits as entered, decimal point in every
        language, so that the paper shows what was typed."""
        unit = UNITS[self.unit]
        gap = "" if unit.dimension == "angle" else " "
        return f"{self.value}{gap}{unit.label(language, one=self.value == '1')}"


def compare(a: Quantity, b: Quantity) -> int:
    """-1, 0 or 1 as `a` is less than, equal to or more than `b`, exactly, whatever their units.

    Raises QuantityError if they are of different dimensions.
    """
    if a.dimension != b.dimension:
        raise wrong_dimension(b, b.unit, (a.dimension,))
    (above_a, below_a), (above_b, below_b) = a.base_ratio, b.base_ratio
    difference = above_a * below_b - above_b * below_a
    return (difference > 0) - (difference < 0)


class Sized(Protocol):
    """Anything that has a size in the base unit of its dimension, as numerator and denominator, not reduced."""

    @property
    def base_ratio(self) -> tuple[int, int]: ...


def quotient(above: Sized, below: Sized, unit: str, times: int = 1) -> Fraction:
    """One size over another, `times` over, in a unit: exact, reduced only once. Raises ZeroDivisionError."""
    (over, by), (through, at), (factor, per) = above.base_ratio, below.base_ratio, UNITS[unit].ratio
    return Fraction(times * over * at * per, by * through * factor)


def from_fraction(value: Fraction, unit: str, digits: int = 6) -> Quantity:
    """An exact value as a quantity: rounded half up to `digits` significant digits (and never more than
    nine decimals), in plain notation, without trailing zeros. Raises QuantityError."""
    text = _plain(value, digits)
    if len(text.partition(".")[0].lstrip("-")) > 12:
        raise QuantityError("quantity/too_large", {"value": text, "unit": unit})
    return Quantity(text, unit)


def from_base(value: Fraction, unit: str, digits: int = 6) -> Quantity:
    """An exact value in the base unit of its dimension, as a quantity in `unit` (see `from_fraction`)."""
    target = UNITS[unit]
    return from_fraction((value - target.offset) / target.factor, unit, digits)


def _plain(value: Fraction, digits: int) -> str:
    above, below = abs(value.numerator), value.denominator
    leading = len(str(above)) - len(str(below))
    if above * 10 ** max(-leading, 0) < below * 10 ** max(leading, 0):
        leading -= 1
    places = min(digits - 1 - leading, _MOST_DECIMALS)
    above, below = above * 10 ** max(places, 0), below * 10 ** max(-places, 0)
    rounded = (2 * above + below) // (2 * below)
    if places <= 0:
        text = str(rounded * 10**-places)
    else:
        whole, decimals = divmod(rounded, 10**places)
        text = f"{whole}.{decimals:0{places}d}".rstrip("0").rstrip(".")
    return f"-{text}" if value < 0 and rounded else text
