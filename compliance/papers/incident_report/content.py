"""What the report of an incident says, as plain data in one language."""

from collections.abc import Iterator
from zoneinfo import ZoneInfo

from compliance.papers.incident_report.told import Step, Told
from compliance.papers.incident_report.wording import WORDS
from compliance.papers.parts import grid, known
from compliance.papers.record_sheet import conditions, mixes, place, protection, work
from compliance.papers.speech import Speech, joined, speech_for
from records.document.types import Product, TreatmentDocument
from records.incidents.reached import reached_said
from shared.paper import Block, Column, Fact, Facts, Furniture, Note, Row, Section, SectionedPaper

_TOLD = (
    Column("incident/to", 5), Column("incident/at", 5), Column("incident/how", 4), Column("incident/number", 3),
    Column("incident/under", 6),
)  # fmt: skip
_SINCE = (Column("incident/at", 4), Column("incident/text", 9), Column("incident/by", 3))
_PRODUCT = (
    Column("incident/product", 6), Column("incident/registration", 4), Column("incident/ingredients", 8),
)  # fmt: skip
_FROM_THE_RECORD = (
    work.when, work.applied_by, place.site, mixes.products, conditions.weather, conditions.apparatus,
    protection.protection,
)  # fmt: skip


def content_of(told: Told, document: TreatmentDocument | None, language: str) -> SectionedPaper:
    """The report; `document` is that of the treatment at which it happened."""
    zone = ZoneInfo(told.zone)
    speech = Speech(language, WORDS, zone, None, told.customary)
    sections = list(_own(told, speech))
    if document is not None:
        sections += _record(told, document, speech_for(document, language, WORDS))
    return SectionedPaper(
        title=speech.word("incident/title"),
        firm=told.firm,
        head=(
            Fact(speech.word("incident/happened"), speech.moment(told.happened_at)),
            Fact(speech.word("incident/kind"), speech.listed("incident_kind", told.kind)),
            Fact(speech.word("incident/state"), speech.word(f"incident/{told.state}")),
            Fact(speech.word("incident/known"), speech.moment(told.known_at)),
        ),
        below=(Note("", speech.word("incident/lead")),),
        sections=tuple(sections),
        furniture=_furniture(told, speech),
    )


def _own(told: Told, speech: Speech) -> Iterator[Section]:
    missing = speech.word("head/not-recorded")
    yield Section(speech.word("incident/who"), (Facts(tuple(_who(told, speech)), columns=2),))
    yield Section(speech.word("incident/where"), (Note(told.place or missing),))
    got_out = (
        *known(speech, "incident/amount", speech.quantity(told.amount)),
        *known(speech, "incident/reached", reached_said(list(told.reached), speech.language)),
    )
    what: tuple[Block, ...] = (Note(told.description or missing),)
    yield Section(speech.word("incident/what"), (*what, *((Facts(got_out, columns=2),) if got_out else ())))
    if told.product:
        yield Section(speech.word("incident/product"), (grid(speech, _PRODUCT, [_product(told.product)]),))
    yield Section(speech.word("incident/affected"), tuple(_affected(told, speech)))
    yield Section(speech.word("incident/done"), (Note(told.action or missing),))
    rows = [_told_row(step, speech) for step in told.told]
    nobody = Note(speech.word("incident/nobody"))
    yield Section(speech.word("incident/told"), (grid(speech, _TOLD, rows) if rows else nobody,))
    if told.since:
        rows = [Row((speech.moment(step.at), step.text, step.by)) for step in told.since]
        yield Section(speech.word("incident/since"), (grid(speech, _SINCE, rows),))


def _who(told: Told, speech: Speech) -> Iterator[Fact]:
    yield Fact(speech.word("incident/firm"), told.firm)
    yield from known(speech, "incident/phone", told.phone)
    yield from known(speech, "incident/address", told.address)
    yield Fact(speech.word("incident/entered"), joined((told.begun_by, speech.moment(told.begun_at))))


def _affected(told: Told, speech: Speech) -> Iterator[Note]:
    yield Note(told.affected or speech.word("head/not-recorded"))
    if told.names:
        yield Note(told.names, speech.word("incident/names"))
    elif told.named:
        yield Note("", speech.word("incident/names-out"))


def _product(product: Product) -> Row:
    strengths = (joined((each.name, each.percent and f"{each.percent} %"), " ") for each in _actives(product))
    return Row((product.name or "", product.registration_number or "", joined(strengths)))


def _actives(product: Product) -> list:
    return list(product.active_ingredients or ())


def _told_row(step: Step, speech: Speech) -> Row:
    cells = (step.to, speech.moment(step.at), step.how, step.number, step.under)
    return Row(cells, step.text)


def _record(told: Told, document: TreatmentDocument, speech: Speech) -> list[Section]:
    source = "incident/from-signed" if told.signed else "incident/from-draft"
    said = Section(speech.word("incident/record"), (Note(speech.word(source, number=told.number)),))
    found = [said]
    for part in _FROM_THE_RECORD:
        made = part(document, speech)
        found += made if isinstance(made, tuple) else [made] if made else []
    return found


def _furniture(told: Told, speech: Speech) -> Furniture:
    kind = speech.listed("incident_kind", told.kind)
    named = speech.word("incident/identity", kind=kind, at=speech.moment(told.happened_at))
    return Furniture(
        title=f"{speech.word('incident/title')} – {named}",
        author=told.firm,
        subject=named,
        language=speech.language,
        identity=joined((told.firm, named), " · "),
        caution=speech.word("incident/foot"),
        page_words=speech.word("head/page"),
    )
