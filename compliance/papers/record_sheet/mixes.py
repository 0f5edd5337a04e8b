"""What was applied: one line for each product in the tank, then the mix as it was made and used."""

from compliance.papers.parts import asked, grid, known
from compliance.papers.record_sheet.labels import product_said
from compliance.papers.speech import Speech, joined
from records.document import amounts
from records.document.computed import Amount, NoAmount
from records.document.types import LeftOver, Load, Mix, MixOnSurface, Product, TreatmentDocument
from shared.paper import Block, Column, Fact, Facts, Note, Row, Section
from shared.quantities import Quantity, QuantityError

_DIGITS = 4
_NARROW = 20


def products(document: TreatmentDocument, speech: Speech) -> tuple[Section, ...]:
    """A section for each mix; one that says so where nothing was applied."""
    title = speech.word("mix/products")
    mixes = document.mixes or ()
    if not mixes:
        nothing = "mix/no-mix" if document.record.result == "stood-down" else "head/not-recorded"
        return (Section(title, (Note(speech.word(nothing)),)),)
    return tuple(_mix(document, number, mix, speech) for number, mix in enumerate(mixes))


def _mix(document: TreatmentDocument, number: int, mix: Mix, speech: Speech) -> Section:
    title = speech.word("mix/products")
    if len(document.mixes or ()) > 1:
        nth = speech.word("mix/products-nth", nth=str(number + 1), total=str(len(document.mixes or ())))
        title = f"{title}\n{nth}"
    rows = [_product_row(document, number, line, product, speech) for line, product in _lines(mix)]
    blocks: list[Block] = [grid(speech, _PRODUCT_COLUMNS, rows)] if rows else []
    blocks.append(Facts(_mix_facts(document, number, mix, speech), columns=5))
    blocks.append(Note("", speech.word("mix/how-computed")))
    return Section(title, tuple(blocks))


def _lines(mix: Mix) -> list[tuple[int, Product]]:
    return list(enumerate(mix.products or ()))


_PRODUCT_COLUMNS = (
    Column("mix/product", 9),
    Column("mix/registration", 5),
    Column("mix/mixed", 4, numeric=True),
    Column("mix/applied", 4, numeric=True),
    Column("mix/product-rate", 6, numeric=True),
    Column("mix/strength", 4, numeric=True),
)


def _product_row(document: TreatmentDocument, mix: int, line: int, product: Product, speech: Speech) -> Row:
    missing = speech.word("head/not-recorded")
    cells = (
        product.name or missing,
        product.registration_number or missing,
        speech.quantity(product.amount) or missing,
        _computed(amounts.product_applied(document, mix, line), speech),
        _computed(amounts.product_rate(document, mix, line, _rate_unit(product.amount, speech)), speech),
        _computed(_strength(document, mix, line, product), speech),
    )
    return Row(cells, product_said(product, speech))


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


def _strength(document: TreatmentDocument, mix: int, line: int, product: Product) -> Amount | NoAmount:
    """A share where product and mix are both volumes or both weights, else weight per volume of mix."""
    share = amounts.strength(document, mix, line)
    if isinstance(share, Amount) or product.amount is None or product.amount.dimension != "mass":
        return share
    unit = "g/L" if product.amount.unit in ("g", "kg") else "lb/(100 gal)"
    return amounts.strength(document, mix, line, unit)


def _computed(amount: Amount | NoAmount, speech: Speech) -> str:
    """A computed amount at four significant digits, or that it cannot be computed from the record."""
    if isinstance(amount, NoAmount):
        return speech.word("mix/not-computable")
    return speech.computed(amount.exact, amount.unit, _DIGITS) or speech.word("mix/not-computable")


def _how(amount: Amount | NoAmount, speech: Speech) -> str:
    """How an amount was computed; nothing where one of its parts cannot be written as a quantity."""
    try:
        return "" if isinstance(amount, NoAmount) else amount.how(speech.language)
    except QuantityError:
        return ""


def _mix_facts(document: TreatmentDocument, number: int, mix: Mix, speech: Speech) -> tuple[Fact, ...]:
    made = amounts.mixed(document, number)
    measured = speech.listed("measure", mix.measured_by)
    diluent = joined((speech.quantity(mix.diluent.amount), mix.diluent.name), " ") if mix.diluent else ""
    place = mix.mixed_at_place and speech.word("mix/mixed-at", place=mix.mixed_at_place)
    return (
        *known(speech, "mix/diluent", diluent),
        Fact(speech.word("mix/mix-made"), _computed(made, speech), _how(made, speech)),
        asked(
            speech,
            "mix/mix-applied",
            speech.quantity(mix.applied),
            speech.word("mix/measured-by", how=measured) if measured else "",
        ),
        *_coverage(document, number, speech),
        *_left_over(mix.left_over, speech),
        *known(speech, "mix/form", speech.listed("form", mix.form), place or ""),
        *known(speech, "mix/with", mix.equipment),
        *_as_wide_as_needed("mix/loads", [_load(one, speech) for one in mix.loads or ()], speech),
        *_as_wide_as_needed("mix/where-applied", [_on(one, speech) for one in mix.surfaces or ()], speech),
    )


def _as_wide_as_needed(label: str, parts: list[str], speech: Speech) -> tuple[Fact, ...]:
    said = joined(parts, "; ")
    return known(speech, label, said, span=1 if len(said) <= _NARROW else 2)


def _coverage(document: TreatmentDocument, number: int, speech: Speech) -> tuple[Fact, ...]:
    applied = (document.mixes or ())[number].applied
    rates = [amount for _path, amount in amounts.coverage(document, number, _rate_unit(applied, speech))]
    return tuple(
        Fact(speech.word("mix/coverage"), _computed(rate, speech), _how(rate, speech)) for rate in rates
    )


def _left_over(left_over: LeftOver | None, speech: Speech) -> tuple[Fact, ...]:
    if left_over is None:
        return (asked(speech, "mix/left-over", ""),)
    fate = speech.listed("disposition", left_over.disposition)
    surface = left_over.surface and speech.word("mix/left-over-on", surface=left_over.surface)
    amount = speech.quantity(left_over.amount)
    beside = joined((fate if amount else "", surface))
    return (asked(speech, "mix/left-over", amount or fate, beside),)


def _load(load: Load, speech: Speech) -> str:
    batch = load.batch and speech.word("mix/batch", batch=load.batch)
    record = load.from_record and speech.word("mix/from-record", record=load.from_record)
    return joined((speech.quantity(load.volume), batch, record))


def _on(on: MixOnSurface, speech: Speech) -> str:
    span = joined((speech.time(on.started_at), speech.time(on.finished_at)), " – ")
    amount = joined((on.surface, speech.quantity(on.applied)), ": ")
    return joined((amount, span))
