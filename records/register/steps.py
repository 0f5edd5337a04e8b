"""Weeks and months between two days, so that what was done in them can be set side by side. Pure."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import Literal

Step = Literal["week", "month"]
A_DAY, A_WEEK = timedelta(days=1), timedelta(days=7)
MOST_WEEKS = 104


def step_for(days: Iterable[date]) -> Step:
    """Weeks, unless there would be so many that nobody could tell them apart."""
    known = list(days)
    if not known:
        return "week"
    return "week" if max(known) - min(known) <= MOST_WEEKS * A_WEEK else "month"


def start_of(day: date, step: Step) -> date:
    """The Monday of the day's week, or the first of its month."""
    return day - day.weekday() * A_DAY if step == "week" else day.replace(day=1)


def starts(days: Iterable[date], step: Step) -> list[date]:
    """Every step from that of the first day to that of the last, also those without any."""
    known = list(days)
    return list(_from(start_of(min(known), step), max(known), step)) if known else []


def _from(first: date, last: date, step: Step) -> Iterator[date]:
    while first <= last:
        yield first
        first = first + A_WEEK if step == "week" else start_of(first + 31 * A_DAY, "month")
