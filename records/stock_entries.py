"""What happened to lots as entries of a ledger, read from their rows, from signed treatments and from tanks."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from typing import Any

from records.models import Batch, Firm, Lot, Product, SignedRecord, StockMove, Treatment, TreatmentProduct
from records.models.treatments import SIGNED_STATES
from records.selectors import document_of
from records.shelf import COUNT, PURCHASE, RECEIVED, TANK, Entry, Size
from records.stock_draws import Use, drawn, in_tank, settled
from shared.quantities import Quantity
from shared.times import local_day

Json = Mapping[str, Any]
Key = tuple[Any, str]
"""A product by its id, and a lot number: rows of two labels with one number are one lot."""
DRAWN_WITHIN = timedelta(days=16)
"""After a tank was filled nobody draws from it any more: two days longer than a left-over is offered."""


@dataclass
class Story:
    """All that is known of one lot. `rows` are its rows, the newest first; `treatments` tells by key of an
    entry the number of the treatment that it is of, `totals` what signed treatments mixed and applied of it, by
    dimension."""

    rows: list[Lot]
    moves: list[StockMove] = field(default_factory=list)
    entries: list[Entry] = field(default_factory=list)
    treatments: dict[str, str] = field(default_factory=dict)
    totals: dict[tuple[str, str], Fraction] = field(default_factory=dict)

    @property
    def product(self) -> Product:
        return self.rows[0].label.product

    @property
    def number(self) -> str:
        return self.rows[0].number

    @property
    def density(self) -> Quantity | None:
        return next((row.label.density for row in self.rows if row.label.density), None)

    def means(self, line: Json, products: set[str]) -> bool:
        """Whether a line of a record or a tank is of this lot. The product is known by its name, or by its
        number where no product has the name that was written, as after it was called otherwise."""
        if line.get("lot") != self.number:
            return False
        name, registration = line.get("name"), line.get("registration_number")
        if name in products:
            return name == self.product.name
        return bool(registration) and registration in {row.label.registration_number for row in self.rows}


def stories(
    firm: Firm, lots: Iterable[Lot], but: Treatment | None = None, until: date | None = None
) -> dict[Key, Story]:
    """By lot, all that happened up to the end of that day. Of the treatment `but` nothing was taken, and what
    it draws from a tank is still there."""
    told: dict[Key, Story] = {}
    for lot in sorted(lots, key=lambda each: each.received_on or date.min, reverse=True):
        told.setdefault((lot.label.product_id, lot.number), Story([])).rows.append(lot)
    _add_moves(firm, told)
    _add_uses(firm, list(told.values()), but)
    for story in told.values():
        story.entries += _received(story)
        story.entries = [each for each in story.entries if not (until and each.day and each.day > until)]
    return told


def _received(story: Story) -> list[Entry]:
    """What the rows say was there at first. Nothing was of a lot that came with a delivery, where something of
    it went out before; else nobody knows."""
    if stated := [Entry(RECEIVED, None, Size.of(row.amount)) for row in story.rows if row.amount]:
        return stated
    came = min((each.day for each in story.entries if each.kind == PURCHASE and each.day), default=None)
    if came is None or not all(row.received_on and row.received_on >= came for row in story.rows):
        return []
    if any(each.day and each.day < came for each in story.entries if each.kind not in (PURCHASE, COUNT)):
        return [Entry(RECEIVED, None, Size("volume", Fraction(0)))]
    return []


def _add_moves(firm: Firm, told: Mapping[Key, Story]) -> None:
    lots = {row.pk: story for story in told.values() for row in story.rows}
    moves = StockMove.objects.for_firm(firm).filter(lot__in=lots).select_related("by").order_by("on", "at")
    for move in moves:
        lots[move.lot_id].moves.append(move)
    for story in told.values():
        gone = {move.of_id for move in story.moves if move.kind == StockMove.Kind.TAKEN_BACK}
        story.entries += [
            Entry(move.kind, move.on, Size.of(move.amount), str(move.pk), move.early)
            for move in story.moves
            if move.amount and move.pk not in gone
        ]


def _add_uses(firm: Firm, told: Sequence[Story], but: Treatment | None) -> None:
    products = set(Product.objects.for_firm(firm).values_list("name", flat=True))
    numbers = {story.number for story in told}
    lines = _lines(firm, numbers, but)
    tanks = _tanks(firm, told)
    mixes = _mixes(firm, numbers, tanks, but) if tanks else {}
    for story in told:
        filled = {}
        for tank in tanks:
            size = in_tank(tank.products, lambda line, of=story: of.means(line, products))  # type: ignore[misc]
            if size:
                filled[str(tank.pk)] = size
                day = local_day(tank.mixed_at, firm.time_zone)
                story.entries.append(Entry(TANK, day, size, str(tank.pk)))
        uses = _uses(story, lines, mixes if filled else {}, products, but)
        story.entries += settled(uses, filled)


def _uses(
    story: Story, lines: Iterable[Json], mixes: Mapping[str, Any], products: set[str], but: Treatment | None
) -> list[Use]:
    mixed: dict[str, list[Size]] = {}
    days: dict[str, date] = {str(but.pk): but.day} if but and str(but.pk) in mixes else {}
    for line in lines:
        if story.means(line, products):
            key = str(line["treatment"])
            days[key] = line["treatment__day"]
            story.treatments[key] = line["treatment__number"]
            mixed.setdefault(key, []).extend(_sizes(line, "mixed"))
            for which in ("mixed", "applied"):
                for size in _sizes(line, which):
                    at = (which, size.dimension)
                    story.totals[at] = story.totals.get(at, Fraction(0)) + size.base
    return [
        Use(
            key,
            day,
            mixed.get(key, []),
            list(drawn(mixes.get(key) or [], lambda at: story.means(at, products))),
        )
        for key, day in days.items()
    ]


def _sizes(line: Json, which: str) -> Iterator[Size]:
    for dimension in ("volume", "mass"):
        if (base := line[f"{which}_{dimension}"]) is not None:
            yield Size(dimension, Fraction(base))


def _lines(firm: Firm, numbers: set[str], but: Treatment | None) -> list[Json]:
    lines = TreatmentProduct.objects.for_firm(firm).filter(lot__in=numbers, treatment__state__in=SIGNED_STATES)
    if but:
        lines = lines.exclude(treatment=but)
    of_treatment = ("treatment", "treatment__day", "treatment__number")
    amounts = ("mixed_volume", "mixed_mass", "applied_volume", "applied_mass")
    lines = lines.order_by("treatment__day", "treatment__number")
    return list(lines.values(*of_treatment, "name", "registration_number", "lot", *amounts))


def _tanks(firm: Firm, told: Sequence[Story]) -> list[Batch]:
    """The tanks that may hold something of these lots: those filled since the first of them came."""
    tanks = Batch.objects.for_firm(firm).order_by("mixed_at")
    came = [row.received_on for story in told for row in story.rows]
    if came and None not in came:
        since = min(day for day in came if day) - timedelta(days=1)
        tanks = tanks.filter(mixed_at__gte=datetime.combine(since, time.min, UTC))
    numbers = {story.number for story in told}
    return [tank for tank in tanks if any(line.get("lot") in numbers for line in tank.products)]


def _mixes(firm: Firm, numbers: set[str], tanks: Sequence[Batch], but: Treatment | None) -> dict[str, Any]:
    """The mixes of what is signed and may have drawn from these tanks, and of `but` as it stands."""
    first, last = tanks[0].mixed_at.date() - timedelta(days=2), tanks[-1].mixed_at.date() + DRAWN_WITHIN
    near = Treatment.objects.for_firm(firm).filter(
        day__range=(first, last), state__in=SIGNED_STATES, product_lines__lot__in=numbers
    )
    if but:
        near = near.exclude(pk=but.pk)
    found = {str(key): mixes for key, mixes in near.values_list("pk", "document__mixes")}
    records = SignedRecord.objects.for_firm(firm).filter(replaced_by=None)
    for record in records.filter(treatment__in=near.filter(state=Treatment.State.CORRECTING)):
        found[str(record.treatment_id)] = document_of(record).get("mixes")
    return found | ({str(but.pk): but.document.get("mixes")} if but else {})
