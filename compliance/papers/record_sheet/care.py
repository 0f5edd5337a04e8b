"""Who was told, and what went wrong: notices and signs, incidents, remarks."""

from compliance.papers.parts import grid, listed
from compliance.papers.record_sheet.evidence import evidence_said
from compliance.papers.speech import Speech, joined
from records.document.types import Incident, Notice, Posting, TreatmentDocument
from shared.paper import Block, Column, Note, Row, Section


def notices(document: TreatmentDocument, speech: Speech) -> Section:
    """Who was told, and the signs put up; nothing of a neighbour but that the notice exists."""
    blocks: list[Block] = []
    if document.notices:
        rows = [_notice_row(one, speech) for one in document.notices]
        blocks.append(grid(speech, _NOTICE_COLUMNS, rows))
    elif "notices" in speech.withheld:
        blocks.append(Note(speech.missing("notices"), speech.word("care/told")))
    if document.postings:
        signs = joined((_posting(one, speech) for one in document.postings), "; ")
        blocks.append(Note(signs, speech.word("care/signs")))
    elif "postings" in speech.withheld:
        blocks.append(Note(speech.missing("postings"), speech.word("care/signs")))
    if not blocks:
        asked = document.notices if document.notices is not None else document.postings
        blocks.append(Note(listed(speech, asked, "")))
    return Section(speech.word("care/notices"), tuple(blocks))


_NOTICE_COLUMNS = (
    Column("care/told", 7),
    Column("care/means", 6),
    Column("care/sent", 6),
    Column("care/delivered", 6),
    Column("care/notice-for", 5),
)
APART = ("neighbour", "registered-person")
"""Told people of whom the sheet names nobody."""


def _notice_row(notice: Notice, speech: Speech) -> Row:
    apart = notice.to in APART
    dates = joined(speech.short_date(one) for one in notice.alternate_dates or ())
    cells = (
        joined((speech.listed("recipient", notice.to), None if apart else notice.name), ": "),
        joined((speech.listed("means", notice.means), notice.language)),
        speech.time(notice.sent_at),
        speech.time(notice.delivered_at),
        joined((speech.time(notice.planned_at), dates and speech.word("care/alternates", dates=dates)), " "),
    )
    detail = speech.word("care/notice-apart", digest=notice.digest) if notice.digest else ""
    return Row(cells, detail)


def _posting(posting: Posting, speech: Speech) -> str:
    sides = {"width": speech.quantity(posting.width), "height": speech.quantity(posting.height)}
    size = speech.word("care/sign-size", **sides) if any(sides.values()) else ""
    letters = speech.quantity(posting.letters)
    lettered = speech.word("care/sign-letters", letters=letters) if letters else ""
    return joined((posting.where, size, lettered, speech.time(posting.posted_at)))


def incidents(document: TreatmentDocument, speech: Speech) -> Section:
    """Spills, drift, exposure and the like; 'none' and 'not recorded' are told apart."""
    title = speech.word("care/incidents")
    if not document.incidents:
        unasked = document.incidents is None
        return Section(
            title, (Note(speech.word("care/incidents-unasked" if unasked else "care/no-incidents")),)
        )
    rows = [_incident_row(one, speech) for one in document.incidents]
    return Section(title, (grid(speech, _INCIDENT_COLUMNS, rows),))


_INCIDENT_COLUMNS = (
    Column("care/incident", 3),
    Column("conditions/at", 3),
    Column("care/amount", 2, numeric=True),
    Column("care/what-happened", 8),
)


def _incident_row(incident: Incident, speech: Speech) -> Row:
    cells = (
        speech.listed("incident_kind", incident.kind),
        speech.time(incident.at),
        speech.quantity(incident.amount),
        incident.description or "",
    )
    action = incident.action and speech.word("care/action", text=incident.action)
    reported = incident.reported_to and speech.word(
        "care/reported", whom=incident.reported_to, time=speech.time(incident.reported_at)
    )
    return Row(cells, joined((action, reported, evidence_said(incident.evidence, speech)), " · "))


def remarks(document: TreatmentDocument, speech: Speech) -> Section | None:
    """Notes of any length."""
    return Section(speech.word("care/remarks"), (Note(document.notes),)) if document.notes else None
