"""What a paper in the order of an official form says: one form for each place and person for whom the work was
done, however many applications and applicators it has."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from compliance.papers.record_sheet.source import Source
from compliance.papers.speech import Speech, address_line, speech_for
from compliance.papers.state_form.elements import applicators_of
from compliance.papers.state_form.filled import Application, filled_in, left_open
from compliance.papers.state_form.wording import WORDS
from compliance.rulebook.official_forms import OfficialForm
from shared.paper import Block, Column, Fact, Furniture, Grid, Note, Row, Section, SectionedPaper
from shared.quantities import Quantity
from shared.times import read_time


@dataclass(frozen=True)
class FormFor:
    """Who wants it and since when: a version that was corrected later is marked."""

    authority: str = ""
    asked_at: datetime | None = None


def contents_of(
    form: OfficialForm, sources: Sequence[Source], language: str, wanted: FormFor
) -> list[SectionedPaper]:
    """In the order in which the places come first. What states no application stands beside the last."""
    applied = [one for one in sources if not _void(one) and one.document.record.result != "stood-down"]
    apart = [one for one in sources if one not in applied]
    groups: dict[tuple[str, ...], list[Source]] = {}
    for one in applied:
        groups.setdefault(_place_and_person(one), []).append(one)
    papers = [_paper(form, group, language, wanted) for group in groups.values()] or [
        _empty(form, sources, language, wanted)
    ]
    if not apart:
        return papers
    last = papers[-1]
    return [*papers[:-1], replace(last, sections=(*last.sections, _apart(apart, language)))]


def _void(source: Source) -> bool:
    return source.is_void or source.void_later


def _place_and_person(source: Source) -> tuple[str, ...]:
    document = source.document
    site, who, firm = document.site, document.customer, document.firm
    where = (address_line(site.address) or site.name or site.id or "") if site else ""
    return where, (who and who.name) or "", (firm and firm.name) or ""


def _paper(form: OfficialForm, group: Sequence[Source], language: str, wanted: FormFor) -> SectionedPaper:
    applications = [
        Application(str(nth), one, _speech(one, language)) for nth, one in enumerate(group, start=1)
    ]
    people = {(one.id or one.name) for source in group for one in applicators_of(source.document)}
    variant = form.variant(len(group), len(people))
    speech = applications[0].speech
    open_rows: list[Row] = []
    numbered = [filled_in(item, applications, open_rows) for item in form.numbered]
    head = (*_asked_by(form, wanted, speech), Fact(speech.word("form/applications"), str(len(group))))
    if variant:
        head = (*head, Fact(speech.word("form/made-for"), variant.says.say(language)))
    firm = group[0].document.firm
    sections = (_records(applications, wanted), *numbered, left_open(open_rows, speech))
    return _made(form, (firm and firm.name) or "", head, sections, speech)


def _empty(form: OfficialForm, sources: Sequence[Source], language: str, wanted: FormFor) -> SectionedPaper:
    speech = _speech(sources[0], language)
    note = Note(speech.word("form/nothing-applied"))
    head = _asked_by(form, wanted, speech)
    sections = (Section(speech.word("form/records"), (note,)),)
    return _made(form, "", head, sections, speech)


def _made(
    form: OfficialForm, firm: str, head: tuple[Fact, ...], sections: tuple[Section, ...], speech: Speech
) -> SectionedPaper:
    title = form.title.say(speech.language)
    furniture = Furniture(
        title=title,
        author=firm,
        subject=form.cite,
        language=speech.language,
        identity=f"{title} · {form.cite}",
        caution=speech.word("form/foot"),
        page_words=speech.word("head/page"),
    )
    return SectionedPaper(title, firm, head, _below(form, speech), sections, furniture)


def _speech(source: Source, language: str) -> Speech:
    return speech_for(source.document, language, WORDS, source.withheld)


def _asked_by(form: OfficialForm, wanted: FormFor, speech: Speech) -> tuple[Fact, ...]:
    by = (Fact(speech.word("form/for"), wanted.authority),) if wanted.authority else ()
    return (*by, Fact(speech.word("form/under"), form.cite))


def _below(form: OfficialForm, speech: Speech) -> tuple[Block, ...]:
    doubt = (Note(form.doubt.say(speech.language)),) if form.doubt else ()
    head = speech.word("form/law-asks", text=form.head.say(speech.language))
    return (Note(head), Note(speech.word("form/lead")), *doubt)


def _records(applications: Sequence[Application], wanted: FormFor) -> Section:
    """Which records the form is made from."""
    speech = applications[0].speech
    titles = (("form/nth", 1), ("form/record", 5), ("form/version", 2), ("form/signed", 12))
    columns = tuple(Column(speech.word(title), share) for title, share in titles)
    rows = tuple(_record(each, wanted) for each in applications)
    return Section(speech.word("form/records"), (Grid(columns, rows),))


def _record(each: Application, wanted: FormFor) -> Row:
    record, speech = each.source.document.record, each.speech
    signed = each.source.signatures[0].claimed_at if each.source.signatures else None
    cells = (each.nth, record.number or "–", str(record.version or 1), speech.moment(signed))
    said = _corrected(each, wanted) if record.corrected_at else _signed_late(each)
    return Row(cells, speech.word("form/digest", digest=each.source.digest), said)


def _signed_late(each: Application) -> str:
    """How many days after the work it was signed, where that was not on its day."""
    timing, signatures = each.source.document.timing, each.source.signatures
    if not (timing and timing.started_at and signatures and signatures[0].claimed_at):
        return ""
    signed, worked = (each.speech.local(at).date() for at in (signatures[0].claimed_at, timing.started_at))
    days = Quantity(str((signed - worked).days), "day")
    return each.speech.word("form/signed-late", days=days.say(each.speech.language)) if signed > worked else ""


def _corrected(each: Application, wanted: FormFor) -> str:
    record = each.source.document.record
    late = wanted.asked_at is not None and read_time(record.corrected_at) > wanted.asked_at
    said = {"at": each.speech.moment(record.corrected_at), "why": record.reason or "–"}
    return each.speech.word("form/after-asked" if late else "form/corrects", **said)


def _apart(sources: Sequence[Source], language: str) -> Section:
    notes = []
    for one in sources:
        why = "form/void" if _void(one) else "form/stood-down"
        number = one.document.record.number or "–"
        notes.append(Note(_speech(one, language).word(why, number=number)))
    return Section(WORDS["form/not-here"].say(language), tuple(notes))
