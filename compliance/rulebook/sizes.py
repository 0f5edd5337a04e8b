"""Sizes that rules compare: quantities as entered, computed ones, counts; and where each comes from."""

from datetime import datetime, timedelta
from fractions import Fraction

from shared.quantities import UNITS, Quantity, QuantityError, from_fraction, units_of
from shared.times import said_time
from shared.values import Value
from shared.wording import Sayable, Wording

_MICROSECOND = timedelta(microseconds=1)
_MICROSECONDS_IN = {
    unit: int(60_000_000 * UNITS[unit].factor / UNITS["min"].factor) for unit in units_of("time")
}
_SECONDS = {"hour": 3600, "min": 60}
_MOST_DIGITS = 21
_LARGEST = "999999999999"


class Exact(Value, frozen=True):
    """A computed size: exact inside, six significant digits (or `digits`) when it is shown."""

    value: Fraction
    unit: str
    digits: int = 6

    @property
    def dimension(self) -> str:
        return UNITS[self.unit].dimension

    @property
    def base(self) -> Fraction:
        """The exact value in the base unit of its dimension."""
        return self.value * UNITS[self.unit].factor

    @property
    def base_ratio(self) -> tuple[int, int]:
        """`base` as numerator and denominator, not reduced: what comparisons need, at less cost."""
        (above, below), (times, over) = self.value.as_integer_ratio(), UNITS[self.unit].ratio
        return above * times, below * over

    def as_json(self) -> dict[str, str] | str:
        """The size as a quantity in JSON; text for one that has too many digits for a quantity."""
        return self._shown.as_json() if self._shown else self._beyond.say("en")

    @property
    def _shown(self) -> Quantity | None:
        try:
            return from_fraction(self.value, self.unit, self.digits)
        except QuantityError:
            return None

    @property
    def _beyond(self) -> Wording:
        en, es = (UNITS[self.unit].label(language) for language in ("en", "es"))
        return Wording(f"more than {_LARGEST} {en}", f"más de {_LARGEST} {es}")

    def say(self, language: str) -> str:
        """As a person reads it; parts of hours and minutes as minutes and seconds: `26 h 13 min`."""
        if self.unit in _SECONDS and self.value.denominator != 1:
            return said_time(self.value * _SECONDS[self.unit])
        return (self._shown or self._beyond).say(language)

    def told_apart_from(self, other: "Quantity | Exact | int") -> "Exact":
        """The size with as many digits as it takes not to be shown as the same as one that it is not."""
        if isinstance(other, int) or other.dimension != self.dimension or other.base == self.base:
            return self
        shown = self
        while shown.digits < _MOST_DIGITS and shown._shown and shown._shown.base == other.base:
            shown = shown.but(digits=shown.digits + 1)
        return shown


def elapsed(early: datetime, late: datetime, unit: str) -> Exact:
    """The time from one moment to another, in a unit of time; nothing if the second comes first."""
    return Exact(Fraction(max(0, (late - early) // _MICROSECOND), _MICROSECONDS_IN[unit]), unit)


Size = Quantity | Exact | int
"""What a limit compares: a quantity as entered, a computed one, or a count."""


class Measured(Value, frozen=True):
    """One value of a quantity that a limit judges: per reading, surface or product. A count is an int.

    `value` None: it can't be computed, for lack of the members `lacks`; or (`why`) because they are there and
    do not go together. `may_be`: what it is if the missing members make it count at all.
    """

    value: Size | None
    about: tuple[str, ...]
    lacks: tuple[str, ...] = ()
    why: Sayable | None = None
    may_be: Size | None = None
