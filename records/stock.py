"""What the firm has of each lot, and where that does not add up."""

from collections.abc import Iterable, Iterator
from datetime import date
from fractions import Fraction
from typing import Any

from records.models import Firm, Lot, StockMove, Treatment, TreatmentProduct
from records.models.treatments import SIGNED_STATES
from records.on_shelf import Difference, OnShelf
from records.stock_entries import stories

Json = dict[str, Any]
MOST_LINES = 200
"""Of lots that nobody entered, the newest lines."""


def shelf_of(
    firm: Firm, lots: Iterable[Lot], but: Treatment | None = None, until: date | None = None
) -> list[OnShelf]:
    """The lots, by product and the newest first."""
    share = Fraction(firm.stock_share) / 100
    found = [OnShelf(story, share) for story in stories(firm, lots, but, until).values()]
    return sorted(found, key=lambda each: each.product.name)


def all_lots(firm: Firm) -> Any:
    return Lot.objects.for_firm(firm).select_related("label__product").order_by("-received_on", "number")


def lots_in_use(firm: Firm) -> Any:
    """The lots that nobody has set aside."""
    kind = StockMove.Kind
    aside = StockMove.objects.for_firm(firm).filter(kind=kind.SET_ASIDE).exclude(about__kind=kind.TAKEN_BACK)
    return all_lots(firm).exclude(pk__in=aside.values("lot"))


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
        if each.lowest:
            found.append(Difference(each, each.lowest))
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
    yield from _offered(shelf_of(firm, all_lots(firm).filter(label__product=product), treatment), language)


def lots_by_product(firm: Firm, language: str) -> dict[str, list[tuple[str, str]]]:
    """The same of all products, by their ids."""
    found: dict[str, list[OnShelf]] = {}
    for each in shelf(firm):
        found.setdefault(str(each.product.pk), []).append(each)
    return {product: list(_offered(those, language)) for product, those in found.items()}


def _offered(lots: Iterable[OnShelf], language: str) -> Iterator[tuple[str, str]]:
    for each in lots:
        if not each.set_aside and (each.left is None or each.left > 0):
            yield each.number, each.on_hand.say(language) if each.on_hand else ""
