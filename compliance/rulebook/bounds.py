"""Least and most of a quantity or a count, compared exactly."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Union

from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Paths
from compliance.rulebook.reading import Params, as_count, quantity
from compliance.rulebook.sizes import Size
from shared.wording import Sayable, Wording


@dataclass(frozen=True)
class Bounds:
    """The bounds of a size; a side that is None is open."""

    min: Size | None = None
    max: Size | None = None

    @cached_property
    def unit(self) -> str | None:
        """The unit of the bounds; None for a count."""
        bound = self.min if self.max is None else self.max
        return None if bound is None or isinstance(bound, int) else bound.unit

    @property
    def seen(self) -> Union["Bounds", Size, None]:
        """The one bound if there is one only, else both."""
        if self.min is None or self.max is None:
            return self.max if self.min is None else self.min
        return self

    def hold(self, size: Size) -> bool:
        """Whether a size lies within both. Raises TypeError if it can't be compared."""
        below = self.min is not None and order(size, self.min) < 0
        return not below and (self.max is None or order(size, self.max) <= 0)

    def say(self, language: str) -> str:
        """The bounds in words: `at least 2 mph, at most 10 mph`."""
        least, most = ("at least", "at most") if language == "en" else ("al menos", "como máximo")
        parts = [f"{least} {sayable(self.min).say(language)}"] if self.min is not None else []
        parts += [f"{most} {sayable(self.max).say(language)}"] if self.max is not None else []
        return ", ".join(parts)


def order(left: Size, right: Size) -> int:
    """-1, 0 or 1 as the left is less than, equal to or more than the right.

    Raises TypeError if they can't be compared.
    """
    if isinstance(left, int) or isinstance(right, int):
        return _order_of_counts(left, right)
    if left.unit != right.unit and left.dimension != right.dimension:
        raise TypeError(f"{left.dimension} cannot be compared with {right.dimension}")
    (above_left, below_left), (above_right, below_right) = left.base_ratio, right.base_ratio
    difference = above_left * below_right - above_right * below_left
    return (difference > 0) - (difference < 0)


def _order_of_counts(left: Size, right: Size) -> int:
    if isinstance(left, int) and isinstance(right, int):
        return (left > right) - (left < right)
    raise TypeError("a quantity cannot be compared with a count")


def sayable(size: Size) -> Sayable:
    """A size as a blank of a sentence."""
    return Wording(str(size), str(size)) if isinstance(size, int) else size


def read_bounds(params: Params, dimensions: Paths) -> Bounds:
    """`min` and `max`, at least one of them; a count if there is no dimension. Raises RuleError."""
    reader: Callable[[Any], Size] = quantity(*dimensions) if dimensions else as_count
    bounds = Bounds(params.maybe("min", reader), params.maybe("max", reader))
    if bounds.min is None and bounds.max is None:
        raise RuleError("rule/some_of_keys", {"keys": "min, max"})
    if bounds.min is not None and bounds.max is not None and order(bounds.min, bounds.max) > 0:
        raise RuleError("rule/min_above_max", {"min": sayable(bounds.min), "max": sayable(bounds.max)})
    return bounds
