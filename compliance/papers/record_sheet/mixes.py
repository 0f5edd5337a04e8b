"""What was applied: one line for each product in the tank, then the mix as it was made and used."""

from compliance.papers.parts import asked, grid, known, listed
from compliance.papers.record_sheet.labels import product_said
from compliance.papers.record_sheet.rates import UNDILUTED, computed, coverage, how, rate_said, strength_said
from compliance.papers.speech import Speech, joined
from records.document import amounts
from records.document.types import LeftOver, Load, Mix, MixOnSurface, Product, TreatmentDocument
from shared.paper import Block, Column, Fact, Facts, Note, Row, Section

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
        computed(amounts.product_applied(document, mix, line), speech),
        rate_said(document, mix, line, product, speech),
        strength_said(document, mix, line, product, speech),
    )
    return Row(cells, product_said(product, speech))


def _mix_facts(document: TreatmentDocument, number: int, mix: Mix, speech: Speech) -> tuple[Fact, ...]:
    made = amounts.mixed(document, number)
    measured = speech.listed("measure", mix.measured_by)
    diluent = joined((speech.quantity(mix.diluent.amount), mix.diluent.name), " ") if mix.diluent else ""
    undiluted = mix.form in UNDILUTED
    mixture = (
        () if undiluted else (Fact(speech.word("mix/mix-made"), computed(made, speech), how(made, speech)),)
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
        *coverage(document, number, speech),
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
