"""The months and years of which reports are made. Pure."""

import re
from dataclasses import dataclass
from datetime import date, timedelta

from shared.days import day_of_month

_WRITTEN = re.compile(r"(\d{4})(?:-(\d{2}))?")
_DAY = timedelta(days=1)
YEARS, MONTHS = range(1990, 2101), range(1, 13)


@dataclass(frozen=True, order=True)
class Period:
    """A calendar month, or without one a calendar year."""

    year: int
    month: int | None = None

    def __str__(self) -> str:
        return f"{self.year:04}-{self.month:02}" if self.month else f"{self.year:04}"

    @property
    def first(self) -> date:
        return date(self.year, self.month or 1, 1)

    @property
    def last(self) -> date:
        return day_of_month(self.year, self.month or 12, 31)

    @property
    def before(self) -> "Period":
        """The one of the same kind before it."""
        return period_of(self.first - _DAY, monthly=self.month is not None)


def period_of(day: date, *, monthly: bool) -> Period:
    """The month or year of a day."""
    return Period(day.year, day.month if monthly else None)


def read_period(text: str) -> Period:
    """`2026-03`, `2026`. Raises ValueError."""
    found = _WRITTEN.fullmatch(text)
    if not found or int(found[1]) not in YEARS or int(found[2] or 1) not in MONTHS:
        raise ValueError(f"no period: {text}")
    return Period(int(found[1]), int(found[2]) if found[2] else None)
