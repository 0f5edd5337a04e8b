"""Sizes as a stored check holds them, in words. Pure."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from shared.quantities import read
from shared.times import said_time
from shared.wording import Sayable, Wording

_SECONDS = {"hour": 3600, "min": 60}
_STORED_DIGITS = 100


def stored_size(value: Mapping[str, Any]) -> Sayable:
    """A stored quantity; a part of an hour or minute in minutes and seconds, as the finding's sentence has it.

    What is stored has six digits: 19.99998 s are the 20 s that were meant.
    """
    size = read(dict(value))
    if size.unit not in _SECONDS or size.exact.denominator == 1:
        return size
    seconds = Fraction(round(size.exact * _SECONDS[size.unit] * _STORED_DIGITS), _STORED_DIGITS)
    return Wording(said_time(seconds), said_time(seconds))
