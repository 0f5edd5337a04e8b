"""What was done for the surroundings: protection steps, notices and signs, incidents, remarks."""

from collections.abc import Sequence

from compliance.papers.parts import grid
from compliance.papers.record_sheet.place import features
from compliance.papers.speech import Speech, joined
from records.document.types import Evidence, Incident, Notice, Posting, ProtectionStep, TreatmentDocument
from shared.paper import Block, Column, Note, Row, Section

_SHOWN_OF_A_DIGEST = 12


def protection(document: TreatmentDocument, speech: Speech) -> Section:
    """Features to be protected, and each step taken: for what, when, by whom, with what evidence."""
    rows = [_step_row(step, speech) for step in document.protection or ()]
    steps: Block = grid(speech, _STEP_COLUMNS, rows) if rows else Note(speech.word("care/no-steps"))
    return Section(speech.word("care/protection"), (*features(document, speech), steps))


_STEP_COLUMNS = (
    Column("care/step", 6),
    Column("care/step-for", 6),
    Column("conditions/at", 3),
    Column("care/done-by", 4),
)


def _step_row(step: ProtectionStep, speech: Speech) -> Row:
    cells = (
        speech.listed("step", step.step),
        joined(step.features or ()),
        speech.time(step.at) or speech.word("head/not-recorded"),
        step.by or speech.word("head/not-recorded"),
    )
    return Row(cells, joined((step.note, evidence_said(step.evidence, speech)), " · "))


def evidence_said(evidence: Sequence[Evidence] | None, speech: Speech) -> str:
    """How many files of evidence there are, and the beginnings of their digests."""
    if not evidence:
        return ""
    digests = joined((one.sha256 or "")[:_SHOWN_OF_A_DIGEST] + "…" for one in evidence)
    return speech.word("care/evidence-said", count=str(len(evidence)), digests=digests)


def notices(document: TreatmentDocument, speech: Speech) -> Section | None:
    """Who was told, and the signs put up; nothing of a neighbour but that the notice exists."""
    blocks: list[Block] = []
    if document.notices:
        rows = [_notice_row(one, speech) for one in document.notices]
        blocks.append(grid(speech, _NOTICE_COLUMNS, rows))
    if document.postings:
        blocks.append(grid(speech, _POSTING_COLUMNS, [_posting_row(one, speech) for one in document.postings]))
    return Section(speech.word("care/notices"), tuple(blocks)) if blocks else None


_NOTICE_COLUMNS = (
    Column("care/told", 7),
    Column("care/means", 3),
    Column("care/notice-language", 3),
    Column("care/sent", 6),
    Column("care/delivered", 6),
    Column("care/notice-for", 6),
)
_APART = ("neighbour", "registered-person")


def _notice_row(notice: Notice, speech: Speech) -> Row:
    apart = notice.to in _APART
    dates = joined(speech.short_date(one) for one in notice.alternate_dates or ())
    cells = (
        joined((speech.listed("recipient", notice.to), None if apart else notice.name), ": "),
        speech.listed("means", notice.means),
        notice.language or "",
        speech.time(notice.sent_at),
        speech.time(notice.delivered_at),
        joined((speech.time(notice.planned_at), dates and speech.word("care/alternates", dates=dates)), " "),
    )
    detail = speech.word("care/notice-apart", digest=notice.digest) if notice.digest else ""
    return Row(cells, detail)


_POSTING_COLUMNS = (Column("care/sign-at", 7), Column("care/sign-size", 4), Column("care/posted", 6))


def _posting_row(posting: Posting, speech: Speech) -> Row:
    size = joined((speech.quantity(posting.width), speech.quantity(posting.height)), " × ")
    return Row((posting.where or "", size, speech.time(posting.posted_at)))


def incidents(document: TreatmentDocument, speech: Speech) -> Section:
    """Spills, drift, exposure and the like; 'none' and 'not recorded' are told apart."""
    title = speech.word("care/incidents")
    if not document.incidents:
        unasked = document.incidents is None
        return Section(title, (Note(speech.word("care/incidents-unasked" if unasked else "care/no-incidents")),))
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
    return Row(cells, joined((action, reported), " · "))


def remarks(document: TreatmentDocument, speech: Speech) -> Section | None:
    """Notes of any length."""
    return Section(speech.word("care/remarks"), (Note(document.notes),)) if document.notes else None
