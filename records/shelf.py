"""What should be there of a lot, from all that happened to it. Pure and exact.

A count says what is there: it is set against what should have been, and what follows goes on from it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from shared.quantities import Quantity

RECEIVED, PURCHASE, RETURN, DISPOSAL = "received", "purchase", "return", "disposal"
COUNT, USED, TANK = "count", "used", "tank"
_COMES_IN = (RECEIVED, PURCHASE)
_TURN = {RECEIVED: 0, PURCHASE: 2, TANK: 3, USED: 4, RETURN: 5, DISPOSAL: 5, COUNT: 6}
_EARLY = 1
NOTHING = Fraction(0)


@dataclass(frozen=True)
class Size:
    """An amount in L or in kg; below nothing for what goes back on the shelf."""

    dimension: str
    base: Fraction

    @classmethod
    def of(cls, quantity: Quantity) -> "Size":
        return cls(quantity.dimension, quantity.base)


@dataclass(frozen=True)
class Entry:
    """One thing that happened on a day; without one it was before all that has one. `key` names the row of it,
    `early` is a count before the day's work."""

    kind: str
    day: date | None
    amount: Size
    key: str = ""
    early: bool = False

    @property
    def turn(self) -> tuple[date, int]:
        return self.day or date.min, _EARLY if self.early else _TURN[self.kind]


@dataclass(frozen=True)
class Line:
    """An entry in a ledger, in L or kg. None is unknown. `off` is what a count found less what should have been
    there."""

    entry: Entry
    change: Fraction | None
    should_be: Fraction | None
    after: Fraction | None

    @property
    def off(self) -> Fraction | None:
        if self.entry.kind != COUNT or self.should_be is None or self.after is None:
            return None
        return self.after - self.should_be


def kept(entries: Iterable[Entry], dimension: str, density: Quantity | None) -> list[Line]:
    """The ledger in the order of the days. Weight and volume meet by the density; without one nothing is known
    from there to the next count."""
    lines: list[Line] = []
    there: Fraction | None = None
    lost = False
    for entry in sorted(entries, key=lambda each: each.turn):
        size = _in(entry.amount, dimension, density)
        before = there
        if entry.kind == COUNT:
            change, there, lost = None, size, size is None
        else:
            change = size if size is None or entry.kind in _COMES_IN else -size
            lost = lost or (change is None)
            begins = entry.kind in _COMES_IN and there is None
            there = None if lost else change if begins else _sum(there, change)
        lines.append(Line(entry, change, before, there))
    return lines


def is_beyond(line: Line, share: Fraction) -> bool:
    """Whether a count differs by more than this share of what should have been there."""
    if line.off is None or line.should_be is None:
        return False
    return abs(line.off) > share * max(line.should_be, NOTHING)


def lowest(lines: Sequence[Line], share: Fraction) -> Line | None:
    """Where since the last count most more had gone out than there was, by more than this share of what was
    there and had come: what comes later makes up for none of it. None where it never had."""
    found: Line | None = None
    there = depth = NOTHING
    for line in lines:
        if line.entry.kind == COUNT:
            there, depth, found = line.after or NOTHING, NOTHING, None
        elif line.entry.kind in _COMES_IN:
            there += line.change or NOTHING
        below = -(line.after or NOTHING)
        if below > max(share * there, depth):
            depth, found = below, line
    return found


def _in(size: Size, dimension: str, density: Quantity | None) -> Fraction | None:
    if size.dimension == dimension or not size.base:
        return size.base
    if density is None or not density.base:
        return None
    return size.base * density.base if dimension == "mass" else size.base / density.base


def _sum(there: Fraction | None, change: Fraction | None) -> Fraction | None:
    return None if there is None or change is None else there + change
