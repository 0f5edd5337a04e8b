"""What a file can't tell by itself, and somebody has to: found by going through all of its rows once."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from records.arriving.days import order_of, two_ways
from records.arriving.exact import Exact
from records.arriving.kinds import member_of
from records.arriving.members import Member
from records.arriving.reading import Asked, in_two_ways, is_ounces
from shared.quantities.units import units_of

MOST_EXAMPLES = 3
_NUMBER_ALONE = re.compile(
    r"[-+]?[0-9][0-9., ]*|[0-9.,]+\s*(?:-|–|to|a)\s*[0-9.,]+|(?:[a-z]{1,3})[ @]+[0-9.,]+", re.IGNORECASE
)
_DECIMALS = re.compile(r"[0-9]([.,])(?:[0-9]{1,2}|[0-9]{4,})(?![0-9.,])")
"""Of these digits the mark parts decimals, whatever else it may part."""
QUANTITIES = ("quantity", "wind")


@dataclass(frozen=True)
class Doubt:
    """`about` is `date_order`, `decimal`, `ounces`, or `unit` of a member; `choices` are the answers."""

    about: str
    choices: tuple[str, ...]
    member: str = ""
    examples: tuple[str, ...] = ()


@dataclass
class Scan:
    """Goes through the rows of a file; then tells what it settles by itself and what it leaves open."""

    kind: str
    columns: Sequence[str]
    asked: Asked
    rows: int = 0
    _orders: Counter[str] = field(default_factory=Counter)
    _marks: Counter[str] = field(default_factory=Counter)
    _examples: dict[tuple[str, str], list[str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        named = [(place, member_of(self.kind, name)) for place, name in enumerate(self.columns) if name]
        self._days = [(place, member) for place, member in named if member.reads == "day"]
        self._amounts = [(place, member) for place, member in named if member.reads in QUANTITIES]

    def look(self, cells: Sequence[str]) -> None:
        self.rows += 1
        for place, _member in self._days:
            if place < len(cells) and (cell := cells[place]) and not isinstance(cell, Exact):
                self._look_at_day(cell)
        for place, member in self._amounts:
            if place < len(cells) and (cell := cells[place]):
                self._look_at_amount(member, cell)

    def _look_at_day(self, cell: str) -> None:
        if order := order_of(cell):
            self._orders[order] += 1
        elif two_ways(cell):
            self._keep("date_order", "", cell)

    def _look_at_amount(self, member: Member, cell: str) -> None:
        unit = self.asked.units.get(member.name, "")
        if in_two_ways(cell):
            self._keep("decimal", "", cell)
        elif not isinstance(cell, Exact) and (mark := _DECIMALS.search(cell)):
            self._marks["point" if mark[1] == "." else "comma"] += 1
        if _NUMBER_ALONE.fullmatch(cell):
            if not unit:
                self._keep("unit", member.name, cell)
            elif is_ounces(unit) and len(member.dimensions) > 1:
                self._keep("ounces", "", f"{cell} {unit}")
        elif is_ounces(cell) and len(member.dimensions) > 1:
            self._keep("ounces", "", cell)

    def _keep(self, about: str, member: str, cell: str) -> None:
        kept = self._examples.setdefault((about, member), [])
        if len(kept) < MOST_EXAMPLES and cell not in kept:
            kept.append(str(cell))

    def settled(self) -> Asked:
        """With the order of days, and the mark of decimals, that the rows tell, where they tell one alone."""
        asked = self.asked
        if not asked.date_order and self._tell_one(self._orders, "date_order"):
            asked = replace(asked, date_order=self._orders.most_common(1)[0][0])
        if not asked.decimal and self._tell_one(self._marks, "decimal"):
            asked = replace(asked, decimal=self._marks.most_common(1)[0][0])
        return asked

    def _tell_one(self, seen: Counter[str], about: str) -> bool:
        return bool(seen) and (len(seen) == 1 or (about, "") not in self._examples)

    def doubts(self) -> list[Doubt]:
        asked = self.settled()
        found = []
        for (about, name), examples in self._examples.items():
            if about == "unit":
                dimensions = member_of(self.kind, name).dimensions
                choices = tuple(unit for dimension in dimensions for unit in units_of(dimension))
            elif getattr(asked, about):
                continue
            else:
                choices = {
                    "date_order": ("mdy", "dmy"),
                    "decimal": ("point", "comma"),
                    "ounces": ("fl_oz", "oz"),
                }[about]
            found.append(Doubt(about, choices, name, tuple(examples)))
        return found
