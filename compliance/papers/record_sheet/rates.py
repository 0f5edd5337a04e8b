"""Computed values of a mix on paper: in the place's units, with those of the label's limits beside them."""

from compliance.papers.record_sheet.labels import label_unit
from compliance.papers.speech import Speech, joined
from records.document import amounts
from records.document.computed import Amount, NoAmount
from records.document.types import Product, TreatmentDocument
from shared.paper import Fact
from shared.quantities import Quantity, QuantityError

UNDILUTED = ("ready-to-use", "dry")
_DIGITS = 4

_CUSTOMARY_RATES = {
    "fl_oz/(1000 ft**2)": ("fl_oz", "mL", "cup"),
    "gal/(100 ft**2)": ("gal", "qt", "pt", "L"),
    "oz/(1000 ft**2)": ("oz", "g"),
    "lb/(1000 ft**2)": ("lb", "kg"),
}
_RATE_OF = {unit: rate for rate, units in _CUSTOMARY_RATES.items() for unit in units}


def _rate_unit(amount: Quantity | None, speech: Speech) -> str | None:
    """The unit in which the place reads a rate of this amount; None for the document's own."""
    return _RATE_OF[amount.unit] if amount and speech.customary else None


def rate_said(document: TreatmentDocument, mix: int, line: int, product: Product, speech: Speech) -> str:
    """Product per area in the place's unit, in brackets in that of the label's limit."""
    rate = amounts.product_rate(document, mix, line, _rate_unit(product.amount, speech))
    said = _by_area(rate, speech)
    unit = label_unit(product, "product_rate")
    return _both(said, amounts.product_rate(document, mix, line, unit) if unit else None, speech)


def strength_said(document: TreatmentDocument, mix: int, line: int, product: Product, speech: Speech) -> str:
    """The strength, in brackets in the unit of the label's limit; of an undiluted product its actives."""
    if (document.mixes or ())[mix].form in UNDILUTED:
        shares = joined(f"{one.percent} %" for one in product.active_ingredients or () if one.percent)
        return speech.word("mix/as-sold", share=shares) if shares else speech.word("head/not-recorded")
    unit = label_unit(product, "dilution")
    said = computed(_strength(document, mix, line, product), speech)
    return _both(said, amounts.strength(document, mix, line, unit) if unit else None, speech)


def _both(said: str, in_label_unit: Amount | NoAmount | None, speech: Speech) -> str:
    """A computed value with the same in another unit beside it, where it can be said and says more."""
    if in_label_unit is None or isinstance(in_label_unit, NoAmount):
        return said
    other = computed(in_label_unit, speech)
    return said if other == said else f"{said} ({other})"


def _strength(document: TreatmentDocument, mix: int, line: int, product: Product) -> Amount | NoAmount:
    """A share where product and mix are both volumes or both weights, else weight per volume of mix."""
    share = amounts.strength(document, mix, line)
    if isinstance(share, Amount) or product.amount is None or product.amount.dimension != "mass":
        return share
    unit = "g/L" if product.amount.unit in ("g", "kg") else "lb/(100 gal)"
    return amounts.strength(document, mix, line, unit)


def computed(amount: Amount | NoAmount, speech: Speech) -> str:
    """A computed amount at four significant digits, or that it cannot be computed from the record."""
    if isinstance(amount, NoAmount):
        return speech.word("mix/not-computable")
    return speech.computed(amount.exact, amount.unit, _DIGITS) or speech.word("mix/not-computable")


def _by_area(amount: Amount | NoAmount, speech: Speech) -> str:
    """An amount per area, which nobody can compute from a copy without the surfaces."""
    if isinstance(amount, NoAmount) and "surfaces" in speech.withheld:
        return speech.missing("surfaces")
    return computed(amount, speech)


def how(amount: Amount | NoAmount, speech: Speech) -> str:
    """How an amount was computed; nothing where one of its parts cannot be written as a quantity."""
    try:
        return "" if isinstance(amount, NoAmount) else amount.how(speech.language)
    except QuantityError:
        return ""


def coverage(document: TreatmentDocument, number: int, speech: Speech) -> tuple[Fact, ...]:
    """Finished mix per area in the place's unit; beside it in that of the label's limit, and from what."""
    mix = (document.mixes or ())[number]
    label = speech.word("mix/used-per-area" if mix.form in UNDILUTED else "mix/coverage")
    rates = amounts.coverage(document, number, _rate_unit(mix.applied, speech))
    units = [label_unit(product, "coverage") for product in mix.products or ()]
    unit = next(filter(None, units), None)
    others = amounts.coverage(document, number, unit) if unit else rates
    return tuple(
        Fact(label, _by_area(rate, speech), joined((_beside(rate, other, speech), how(rate, speech)), "; "))
        for (_path, rate), (_same, other) in zip(rates, others, strict=True)
    )


def _beside(amount: Amount | NoAmount, other: Amount | NoAmount, speech: Speech) -> str:
    """The same amount in the label's unit, where that is another."""
    if isinstance(amount, NoAmount) or isinstance(other, NoAmount) or amount.unit == other.unit:
        return ""
    return computed(other, speech)
