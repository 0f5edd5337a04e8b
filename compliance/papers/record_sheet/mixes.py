"""What was applied: one line for each product in the tank, then the mix as it was made and used."""

from compliance.papers.parts import asked, grid, known, listed
from compliance.papers.record_sheet.labels import label_unit, product_said
from compliance.papers.speech import Speech, joined
from records.document import amounts
from records.document.computed import Amount, NoAmount
from records.document.types import LeftOver, Load, Mix, MixOnSurface, Product, TreatmentDocument
from shared.paper import Block, Column, Fact, Facts, Note, Row, Section
from shared.quantities import Quantity, QuantityError

UNDILUTED = ("ready-to-use", "dry")
_DIGITS = 4
_MOST_IN_A_ROW = 7
_UNREGISTERED = {"exempt": "mix/exempt"}


def products(document: TreatmentDocument, speech: Speech) -> tuple[Section, ...]:
    """A section for each mix; one that says so where nothing was applied."""
    if not document.mixes:
        stood_down = document.record.result == "stood-down"
        nothing = speech.word("mix/no-mix") if stood_down else listed(speech, document.mixes, "")
        title = "mix/products-none" if stood_down else "mix/products"
        return (Section(speech.word(title), (Note(nothing),)),)
    return tuple(_mix(document, number, mix, speech) for number, mix in enumerate(document.mixes))


def _mix(document: TreatmentDocument, number: int, mix: Mix, speech: Speech) -> Section:
    stood_down, undiluted = document.record.result == "stood-down", mix.form in UNDILUTED
    title = speech.word("mix/products-mixed" if stood_down else "mix/products")
    if len(document.mixes or ()) > 1:
        nth = speech.word("mix/products-nth", nth=str(number + 1), total=str(len(document.mixes or ())))
        title = f"{title}\n{nth}"
    rows = [_product_row(document, number, line, product, speech) for line, product in _lines(mix)]
    blocks: list[Block] = [grid(speech, _columns(document, mix), rows)] if rows else []
    facts = _mix_facts(document, number, mix, speech)
    blocks.append(Facts(facts, columns=min(len(facts), _MOST_IN_A_ROW)))
    blocks.append(Note(_use(mix, speech), speech.word("mix/form-used")))
    blocks.append(Note("", speech.word("mix/how-computed-undiluted" if undiluted else "mix/how-computed")))
    return Section(title, tuple(blocks))


def _lines(mix: Mix) -> list[tuple[int, Product]]:
    return list(enumerate(mix.products or ()))


def _columns(document: TreatmentDocument, mix: Mix) -> tuple[Column, ...]:
    """The columns of a mix; the agency is named only where all products are registered with it."""
    places = (document.site and document.site.jurisdictions) or ()
    regimes = {product.regime for product in mix.products or ()}
    epa = places[:1] == ["us"] and regimes <= {None, "pesticide", "exempt"}
    return (
        Column("mix/product", 9),
        Column("mix/registration-epa" if epa else "mix/registration", 5),
        Column("mix/drawn" if mix.form in UNDILUTED else "mix/mixed", 4, numeric=True),
        Column("mix/applied", 4, numeric=True),
        Column("mix/product-rate", 6, numeric=True),
        Column("mix/strength", 4, numeric=True),
    )


def _product_row(document: TreatmentDocument, mix: int, line: int, product: Product, speech: Speech) -> Row:
    missing = speech.word("head/not-recorded")
    cells = (
        product.name or missing,
        product.registration_number
        or speech.word(_UNREGISTERED.get(product.regime or "", "head/not-recorded")),
        speech.quantity(product.amount) or missing,
        _computed(amounts.product_applied(document, mix, line), speech),
        _rate(document, mix, line, product, speech),
        _strength_said(document, mix, line, product, speech),
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


def _rate(document: TreatmentDocument, mix: int, line: int, product: Product, speech: Speech) -> str:
    """Product per area in the place's unit, in brackets in that of the label's limit."""
    said = _computed(amounts.product_rate(document, mix, line, _rate_unit(product.amount, speech)), speech)
    unit = label_unit(product, "product_rate")
    return _both(said, amounts.product_rate(document, mix, line, unit) if unit else None, speech)


def _strength_said(document: TreatmentDocument, mix: int, line: int, product: Product, speech: Speech) -> str:
    """The strength, in brackets in the unit of the label's limit; of an undiluted product its actives."""
    if (document.mixes or ())[mix].form in UNDILUTED:
        shares = joined(f"{one.percent} %" for one in product.active_ingredients or () if one.percent)
        return speech.word("mix/as-sold", share=shares) if shares else speech.word("head/not-recorded")
    unit = label_unit(product, "dilution")
    said = _computed(_strength(document, mix, line, product), speech)
    return _both(said, amounts.strength(document, mix, line, unit) if unit else None, speech)


def _both(said: str, in_label_unit: Amount | NoAmount | None, speech: Speech) -> str:
    """A computed value with the same in another unit beside it, where it can be said and says more."""
    if in_label_unit is None or isinstance(in_label_unit, NoAmount):
        return said
    other = _computed(in_label_unit, speech)
    return said if other == said else f"{said} ({other})"


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
    undiluted = mix.form in UNDILUTED
    mixture = (
        () if undiluted else (Fact(speech.word("mix/mix-made"), _computed(made, speech), _how(made, speech)),)
    )
    return (
        *known(speech, "mix/diluent", diluent),
        *mixture,
        asked(
            speech,
            "mix/used-applied" if undiluted else "mix/mix-applied",
            speech.quantity(mix.applied),
            speech.word("mix/measured-by", how=measured) if measured else "",
        ),
        *_coverage(document, number, speech),
        *_left_over(mix.left_over, speech),
    )


def _use(mix: Mix, speech: Speech) -> str:
    """In what form, mixed where, with which rig, in which loads, on which surfaces."""
    place = mix.mixed_at_place
    if place and mix.form not in UNDILUTED:
        place = speech.word("mix/mixed-at", place=place)
    loads = joined((_load(one, speech) for one in mix.loads or ()), "; ")
    surfaces = joined((_on(one, speech) for one in mix.surfaces or ()), "; ")
    said = (
        joined((speech.listed("form", mix.form), place)),
        mix.equipment and f"{speech.word('mix/with')}: {mix.equipment}",
        loads and f"{speech.word('mix/loads')}: {loads}",
        surfaces and f"{speech.word('mix/where-applied')}: {surfaces}",
    )
    return joined(said, " · ") or speech.word("head/not-recorded")


def _coverage(document: TreatmentDocument, number: int, speech: Speech) -> tuple[Fact, ...]:
    """Finished mix per area in the place's unit; beside it in that of the label's limit, and from what."""
    mix = (document.mixes or ())[number]
    label = speech.word("mix/used-per-area" if mix.form in UNDILUTED else "mix/coverage")
    rates = amounts.coverage(document, number, _rate_unit(mix.applied, speech))
    units = [label_unit(product, "coverage") for product in mix.products or ()]
    unit = next(filter(None, units), None)
    others = amounts.coverage(document, number, unit) if unit else rates
    return tuple(
        Fact(label, _computed(rate, speech), joined((_beside(rate, other, speech), _how(rate, speech)), "; "))
        for (_path, rate), (_same, other) in zip(rates, others, strict=True)
    )


def _beside(amount: Amount | NoAmount, other: Amount | NoAmount, speech: Speech) -> str:
    """The same amount in the label's unit, where that is another."""
    if isinstance(amount, NoAmount) or isinstance(other, NoAmount) or amount.unit == other.unit:
        return ""
    return _computed(other, speech)


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
