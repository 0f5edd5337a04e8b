"""What the firm has of each lot: what it received less what went into the mixes of signed treatments."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from django.db.models import Sum

from records.models import Firm, Lot, Treatment, TreatmentProduct
from records.models.treatments import SIGNED_STATES
from shared.quantities import UNITS, from_fraction, read

Json = dict[str, Any]


def stock_before(treatment: Treatment) -> list[Json]:
    """`{lot, on_hand}` for each lot that the treatment's document names, without what the treatment takes."""
    lines = TreatmentProduct.objects.for_firm(treatment.firm).filter(treatment=treatment)
    lots = Lot.objects.for_firm(treatment.firm).filter(number__in=lines.values("lot")).order_by("number")
    return [_on_hand(lot, treatment) for lot in lots if lot.amount is not None]


def lots_of(firm: Firm, product: Any, treatment: Treatment | None, language: str) -> Iterator[tuple[str, str]]:
    """The lots of a product of which something is on hand, and how much in words where that is known."""
    for lot in Lot.objects.for_firm(firm).filter(label__product=product).order_by("-received_on", "number"):
        left = read(_on_hand(lot, treatment)["on_hand"]) if lot.amount is not None else None
        if left is None or left.base > 0:
            yield lot.number, left.say(language) if left else ""


def _on_hand(lot: Lot, treatment: Treatment | None) -> Json:
    unit = UNITS[lot.amount.unit]
    taken = TreatmentProduct.objects.for_firm(lot.firm).filter(
        lot=lot.number, name=lot.label.product.name, treatment__state__in=SIGNED_STATES
    )
    used = taken.exclude(treatment=treatment).aggregate(used=Sum(f"mixed_{unit.dimension}"))["used"] or 0
    left = lot.amount.base - Fraction(used)
    return {
        "lot": lot.number,
        "on_hand": from_fraction(max(left, Fraction(0)) / unit.factor, unit.name).as_json(),
    }
