"""One lot as the shelf has it: its ledger, what should be there, and what of it does not add up."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cached_property

from records.models import Lot, Product, StockMove
from records.shelf import COUNT, Line, is_beyond, kept, lowest
from records.stock_entries import Story
from shared.quantities import UNITS, Quantity, from_base

_METRIC = ("L", "mL", "kg", "g")
_USUAL = {
    ("volume", True): "L",
    ("mass", True): "kg",
    ("volume", False): "gal",
    ("mass", False): "lb",
}


@dataclass(frozen=True)
class OnShelf:
    """One lot with its ledger; `share` is by how much it may differ."""

    story: Story
    share: Fraction

    @property
    def lot(self) -> Lot:
        return self.story.rows[0]

    @property
    def product(self) -> Product:
        return self.story.product

    @property
    def number(self) -> str:
        return self.story.number

    @cached_property
    def unit(self) -> str:
        """In which its amounts are said: that in which it came, or was counted; '' where nobody wrote one."""
        typed = [row.amount.unit for row in self.story.rows if row.amount]
        typed += [move.amount.unit for move in self.story.moves if move.amount]
        return next(iter(typed), "")

    @cached_property
    def lines(self) -> list[Line]:
        dimension = UNITS[self.unit].dimension if self.unit else "volume"
        return kept(self.story.entries, dimension, self.story.density)

    @cached_property
    def left(self) -> Fraction | None:
        """What should be there, in L or kg: below nothing where more went out than there was, None if
        unknown."""
        return self.lines[-1].after if self.lines and self.unit else None

    @property
    def on_hand(self) -> Quantity | None:
        return None if self.left is None else self.said(max(self.left, Fraction(0)))

    def said(self, base: Fraction) -> Quantity:
        return from_base(base, self.unit)

    def said_in(self, dimension: str, base: Fraction) -> Quantity:
        """An amount of either dimension, in the lot's unit where that is of it."""
        own = self.unit if self.unit and UNITS[self.unit].dimension == dimension else ""
        return from_base(base, own or _USUAL[dimension, self.unit in _METRIC])

    @property
    def mixed(self) -> list[Quantity]:
        """What signed treatments mixed of it: one amount, or a volume and a weight."""
        return self._total("mixed")

    @property
    def applied(self) -> list[Quantity]:
        """What they applied of it, as it stands on their records."""
        return self._total("applied")

    def _total(self, wanted: str) -> list[Quantity]:
        totals = self.story.totals.items()
        return [self.said_in(dimension, base) for (which, dimension), base in totals if which == wanted]

    @property
    def is_used_up(self) -> bool:
        return self.left == 0

    @cached_property
    def set_aside(self) -> StockMove | None:
        """Why nothing of it is to be used, where somebody said so."""
        moves, kind = self.story.moves, StockMove.Kind
        gone = {move.of_id for move in moves if move.kind == kind.TAKEN_BACK}
        return next((move for move in moves if move.kind == kind.SET_ASIDE and move.pk not in gone), None)

    @property
    def last_count(self) -> Line | None:
        return next((line for line in reversed(self.lines) if line.entry.kind == COUNT), None)

    @cached_property
    def lowest(self) -> Line | None:
        """Where more had gone out than there was, beyond the share."""
        return lowest(self.lines, self.share) if self.unit else None

    @property
    def lacks(self) -> bool:
        return self.lowest is not None

    @property
    def does_not_meet(self) -> bool:
        """Whether weight and volume met in it and no label says the density."""
        return bool(self.unit) and self.left is None and any(line.change is None for line in self.lines)

    @cached_property
    def explained(self) -> dict[str, StockMove]:
        """By the id of a count, what explains the difference that it has now."""
        said = {str(move.of_id): move for move in self.story.moves if move.kind == StockMove.Kind.EXPLAINED}
        offs = {line.entry.key: str(line.off) for line in self.lines}
        return {key: move for key, move in said.items() if offs.get(key) == move.off}

    @property
    def counts_beyond(self) -> list[Line]:
        """The counts that differ by more than the share and that nobody has explained."""
        beyond = (line for line in self.lines if is_beyond(line, self.share))
        return [line for line in beyond if line.entry.key not in self.explained]


@dataclass(frozen=True)
class Difference:
    """Something that does not add up, at this line of its ledger: a count, or more out of the lot than was in
    it by then."""

    shelf: OnShelf
    line: Line

    @property
    def count(self) -> Line | None:
        return self.line if self.line.entry.kind == COUNT else None

    @property
    def day(self) -> date | None:
        return self.line.entry.day

    @property
    def by(self) -> Quantity:
        """By how much, whichever way."""
        off = self.line.off if self.count else self.line.after
        return self.shelf.said(abs(off or Fraction(0)))

    @property
    def is_short(self) -> bool:
        return self.count is None or (self.line.off or 0) < 0
