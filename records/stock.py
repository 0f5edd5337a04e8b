"""What the firm has of each lot, and where that does not add up."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cached_property
from typing import Any

from records.models import Firm, Lot, Product, StockMove, Treatment, TreatmentProduct
from records.models.treatments import SIGNED_STATES
from records.shelf import COUNT, Line, is_beyond, kept, lacks
from records.stock_entries import Story, stories
from shared.quantities import UNITS, Quantity, from_base

Json = dict[str, Any]
MOST_LINES = 200
"""Of lots that nobody entered, the newest lines."""
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
    def is_used_up(self) -> bool:
        return self.left == 0

    @property
    def last_count(self) -> Line | None:
        return next((line for line in reversed(self.lines) if line.entry.kind == COUNT), None)

    @property
    def lacks(self) -> bool:
        return bool(self.unit) and lacks(self.lines, self.share)

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
    """Something that does not add up: a `count`, or where there is none more out of the lot than was in it."""

    shelf: OnShelf
    count: Line | None = None

    @property
    def day(self) -> date | None:
        return self.count.entry.day if self.count else self.shelf.lines[-1].entry.day

    @property
    def by(self) -> Quantity:
        """By how much, whichever way."""
        off = self.count.off if self.count else self.shelf.left
        return self.shelf.said(abs(off or Fraction(0)))

    @property
    def is_short(self) -> bool:
        return self.count is None or (self.count.off or 0) < 0


def shelf_of(
    firm: Firm, lots: Iterable[Lot], but: Treatment | None = None, until: date | None = None
) -> list[OnShelf]:
    """The lots, by product and the newest first."""
    share = Fraction(firm.stock_share) / 100
    found = [OnShelf(story, share) for story in stories(firm, lots, but, until).values()]
    return sorted(found, key=lambda each: each.product.name)


def all_lots(firm: Firm) -> Any:
    return Lot.objects.for_firm(firm).select_related("label__product").order_by("-received_on", "number")


def shelf(firm: Firm) -> list[OnShelf]:
    """All lots of the firm."""
    return shelf_of(firm, all_lots(firm))


def one_lot(lot: Lot) -> OnShelf:
    """The lot with all rows that are the same."""
    (found,) = shelf_of(
        lot.firm, all_lots(lot.firm).filter(label__product=lot.label.product_id, number=lot.number)
    )
    return found


def differences(firm: Firm) -> list[Difference]:
    """What does not add up and waits for a manager, the newest first."""
    return differences_of(shelf(firm))


def differences_of(lots: Iterable[OnShelf]) -> list[Difference]:
    found = []
    for each in lots:
        found += [Difference(each, count) for count in each.counts_beyond]
        if each.lacks:
            found.append(Difference(each))
    return sorted(found, key=lambda each: each.day or date.min, reverse=True)


def not_on_shelf(firm: Firm) -> dict[tuple[str, str], list[TreatmentProduct]]:
    """By lot and product, the lines of signed records that name a lot without a row, the newest first."""
    named = TreatmentProduct.objects.for_firm(firm).filter(treatment__state__in=SIGNED_STATES).exclude(lot="")
    unknown = named.exclude(lot__in=Lot.objects.for_firm(firm).values("number")).select_related("treatment")
    found: dict[tuple[str, str], list[TreatmentProduct]] = {}
    for line in unknown.order_by("-treatment__day", "-treatment__uuid")[:MOST_LINES]:
        found.setdefault((line.lot, line.name), []).append(line)
    return found


def stock_before(treatment: Treatment) -> list[Json]:
    """`{lot, on_hand}` for each lot that the treatment's document names, at the end of its day without what the
    treatment takes."""
    lines = TreatmentProduct.objects.for_firm(treatment.firm).filter(treatment=treatment)
    lots = all_lots(treatment.firm).filter(number__in=lines.values("lot"))
    found = shelf_of(treatment.firm, lots, treatment, treatment.day)
    known = [(each.number, each.on_hand) for each in found if each.on_hand]
    return [{"lot": number, "on_hand": left.as_json()} for number, left in sorted(known, key=lambda at: at[0])]


def lots_of(firm: Firm, product: Any, treatment: Treatment | None, language: str) -> Iterator[tuple[str, str]]:
    """The lots of a product of which something is on hand, and how much in words where that is known."""
    for each in shelf_of(firm, all_lots(firm).filter(label__product=product), treatment):
        if each.left is None or each.left > 0:
            yield each.number, each.on_hand.say(language) if each.on_hand else ""
