"""When, for whom, under whose licence and by whom: the first parts of the sheet."""

from collections.abc import Sequence

from compliance.papers.parts import asked, done, grid, known, listed
from compliance.papers.speech import Speech, address_line, joined
from records.document.types import Insurance, Label, Licence, Pause, Person, TreatmentDocument
from shared.paper import Block, Column, Facts, Note, Row, Section


def when(document: TreatmentDocument, speech: Speech) -> Section:
    """Date, start and stop beside what was planned; when the record was made; when people may return."""
    timing, record = document.timing, document.record
    started = timing.started_at if timing else None
    planned = timing.planned_at if timing else None
    day = started or planned
    planned_time = speech.word("work/planned", time=speech.time(planned)) if planned and started else ""
    by = speech.word("work/entered-by", name=record.entered_by) if record.entered_by else ""
    facts = (
        asked(
            speech,
            "work/date" if started else "work/date-planned",
            speech.long_date(speech.local(day).date()) if day else "",
            _zone(speech),
            span=2,
        ),
        *done(speech, record, "work/started", speech.time(started), planned_time),
        *done(speech, record, "work/stopped", speech.time(timing.finished_at) if timing else ""),
        *known(speech, "work/reentry", speech.time(timing.reentry_at) if timing else ""),
        *known(speech, "work/recorded", speech.time(timing.recorded_at) if timing else "", by),
    )
    blocks: list[Block] = [Facts(facts, columns=6)]
    if timing and timing.pauses:
        pauses = joined((_pause(one, speech) for one in timing.pauses), "; ")
        blocks.append(Note(pauses, speech.word("work/pauses")))
    if record.why:
        why = "work/why-in-part" if record.result == "part-treated" else "work/why"
        blocks.append(Note(speech.listed("stand_down_reason", record.why), speech.word(why)))
    return Section(speech.word("work/when"), tuple(blocks))


def _zone(speech: Speech) -> str:
    return speech.word("work/zone-withheld") if "site" in speech.withheld else str(speech.zone or "")


def _pause(pause: Pause, speech: Speech) -> str:
    span = f"{speech.time(pause.started_at) or '…'} – {speech.time(pause.finished_at) or '…'}"
    return joined((span, pause.note))


def customer(document: TreatmentDocument, speech: Speech) -> Section:
    """The person for whom the work was done."""
    who = document.customer
    facts = (
        asked(speech, "work/name", who.name if who else "", span=2),
        asked(speech, "work/address", address_line(who.address) if who else "", span=3),
        *known(speech, "work/contact", joined((who.phone, who.email)) if who else "", span=3),
    )
    title = "work/customer" if document.record.result != "stood-down" else "work/customer-only"
    return Section(speech.word(title), (Facts(facts, columns=8),))


def licensee(document: TreatmentDocument, speech: Speech) -> Section:
    """The firm, its licences with their holder, and its insurance."""
    firm = document.firm
    facts = (
        asked(speech, "work/firm", firm.name if firm else "", span=2),
        asked(speech, "work/address", address_line(firm.address) if firm else "", span=3),
        asked(speech, "work/phone", firm.phone if firm else ""),
        *known(speech, "work/insurance", _insurance(firm and firm.insurance, speech), span=2),
    )
    blocks: list[Block] = [Facts(facts, columns=8)]
    licences = firm.licences if firm else None
    if licences:
        rows = [_licence_row(licence, speech) for licence in licences]
        blocks.append(grid(speech, _LICENCE_COLUMNS, rows))
    else:
        blocks.append(Note(listed(speech, licences, ""), speech.word("work/licence")))
    return Section(speech.word("work/licensee"), tuple(blocks))


_LICENCE_COLUMNS = (
    Column("work/number", 4),
    Column("work/holder", 4),
    Column("work/licence", 7),
    Column("work/categories", 5),
    Column("work/valid", 7),
)


def _licence_row(licence: Licence, speech: Speech) -> Row:
    kind = joined((licence.kind, licence.authority and licence.authority.upper()))
    categories = joined(licence.categories or ())
    number = licence.number or speech.word("head/not-recorded")
    return Row((number, licence.holder or "", kind, categories, span_of_days(licence, speech)))


def span_of_days(dated: Licence | Label, speech: Speech) -> str:
    """`valid_from` and `valid_to`, days that both count, in words."""
    start, end = speech.short_date(dated.valid_from), speech.short_date(dated.valid_to)
    if start and end:
        return speech.word("work/valid-span", start=start, end=end)
    if start:
        return speech.word("work/valid-from", start=start)
    return speech.word("work/valid-to", end=end) if end else ""


def _insurance(insurance: Insurance | None, speech: Speech) -> str:
    if insurance is None:
        return ""
    cover = joined((insurance.cover.value, insurance.cover.currency), " ") if insurance.cover else ""
    policy = speech.word(
        "work/insurance-said", insurer=insurance.insurer or "–", policy=insurance.policy or "–"
    )
    return joined((policy, cover and speech.word("work/cover", amount=cover)), "; ")


def applied_by(document: TreatmentDocument, speech: Speech) -> Section:
    """Everyone who took part: role, licence, supervision, tasks, where they worked, what they wore."""
    worked = document.record.result != "stood-down"
    rows = [_person_row(person, worked, speech) for person in document.people or ()]
    title = speech.word("work/applied-by" if worked else "work/present")
    if not rows:
        return Section(title, (Note(listed(speech, document.people, "")),))
    return Section(title, (grid(speech, _PEOPLE_COLUMNS, rows),))


_PEOPLE_COLUMNS = (
    Column("work/name", 4),
    Column("work/role", 3),
    Column("work/number", 4),
    Column("work/tasks", 7),
    Column("work/positions", 6),
)


def _person_row(person: Person, worked: bool, speech: Speech) -> Row:
    """One person; what is only done while treating is asked for where there was treating (`worked`)."""
    positions = [
        joined((speech.listed("position", one.where), speech.quantity(one.time)), " ")
        for one in person.positions or ()
    ]
    cells = (
        person.name or speech.word("head/not-recorded"),
        speech.listed("role", person.role),
        listed(speech, person.licences, _numbers(person.licences, speech), "work/no-licence"),
        _asked_of(person.tasks, speech.all_listed("task", person.tasks), worked, speech),
        _asked_of(person.positions, joined(positions), worked, speech),
    )
    return Row(cells, _person_detail(person, worked, speech))


def _numbers(licences: Sequence[Licence] | None, speech: Speech) -> str:
    return joined(one.number or speech.word("head/not-recorded") for one in licences or ())


def _asked_of(items: Sequence[object] | None, said: str, worked: bool, speech: Speech) -> str:
    return listed(speech, items, said) if worked or items else ""


def _licence_said(licence: Licence, speech: Speech) -> str:
    kind = joined((licence.kind, licence.authority and licence.authority.upper()))
    return joined((kind, joined(licence.categories or ()), span_of_days(licence, speech)))


def _person_detail(person: Person, worked: bool, speech: Speech) -> str:
    supervised = person.supervised_by and speech.word("work/supervised", name=person.supervised_by)
    manner = speech.listed("supervision", person.supervision)
    trained = person.trained_on and speech.word("work/trained", day=speech.short_date(person.trained_on))
    own = joined((address_line(person.address), person.phone))
    licences = joined((_licence_said(one, speech) for one in person.licences or ()), "; ")
    worn = _asked_of(person.ppe, speech.all_listed("ppe", person.ppe), worked, speech)
    wore = worn and speech.word("work/wore", list=worn)
    return joined((licences, joined((supervised, manner)), trained, wore, own), " · ")
