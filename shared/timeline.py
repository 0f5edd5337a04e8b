"""Dated values: what was in force on a day. Spans are half-open, `[from, until)`."""

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Generic, TypeVar

Value = TypeVar("Value")


@dataclass(frozen=True)
class Span:
    """Days from `start` up to, but not with, `until`; an end that is None is open."""

    start: date | None = None
    until: date | None = None

    def __post_init__(self) -> None:
        if self.start and self.until and self.until <= self.start:
            raise ValueError(f"a span must end after its first day {self.start}, got {self.until}")

    @property
    def open(self) -> bool:
        """Whether the span holds every day."""
        return self.start is None and self.until is None

    def holds(self, day: date) -> bool:
        return (self.start is None or self.start <= day) and (self.until is None or day < self.until)


class Timeline(Generic[Value]):
    """Values by the first day on which each is in force; a value holds until the next one starts.

    `expected` are the first days of known changes to come. Nothing is computed with them: the value before
    such a day goes on.
    """

    def __init__(self, values: Mapping[date, Value], expected: tuple[date, ...] = ()) -> None:
        self.entries = tuple(sorted(values.items(), key=lambda entry: entry[0]))
        self.expected = tuple(sorted(expected))
        self._starts = [start for start, _ in self.entries]

    def in_force_on(self, day: date) -> Value | None:
        """The value whose span holds the day; None before the first one."""
        place = bisect_right(self._starts, day)
        return self.entries[place - 1][1] if place else None

    @property
    def values(self) -> tuple[Value, ...]:
        """All values, oldest first."""
        return tuple(value for _, value in self.entries)
