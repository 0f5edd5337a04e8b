"""What goes along with a notice: the paper it is on, the visit for a calendar, how the customer prepares."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import groupby

from compliance.notices.ways import Contact
from compliance.papers.customer import before, draw
from compliance.papers.notice import NoticeContent, calendar_entry, door_cards, letters
from records.models import Notice, Treatment
from records.outbox.piece import Attachment

PDF, CALENDAR = "application/pdf", "text/calendar"


def enclosed(
    treatment: Treatment, contact: Contact, means: str, content: NoticeContent
) -> Iterator[Attachment]:
    """The attachments of one notice by this means. The same content gives the same bytes."""
    paper = treatment.firm.paper
    if means == "letter":
        yield Attachment("letter.pdf", PDF, letters([content], paper))
    if means == "door":
        yield Attachment("door-card.pdf", PDF, door_cards([content], paper))
    if means == "in-person":
        yield Attachment("card-to-hand-over.pdf", PDF, door_cards([content], paper))
    if means == "email":
        yield Attachment("visit.ics", CALENDAR, _entry(treatment, content))
    if contact.to == "customer" and not content.called_off and means in ("email", "letter", "in-person"):
        for side in content.sides:
            drawn = draw(before(treatment.document, side.language, content.until), paper)
            yield Attachment(f"before-the-work-{side.language}.pdf", PDF, drawn)


def _versions(treatment: Treatment, planned_at: datetime | None, called_off: bool) -> int:
    """How often another time, or none, was told of before; the same while the last one told is this one."""
    rows = Notice.objects.for_firm(treatment.firm).filter(treatment=treatment).order_by("made_at", "pk")
    told = [None if off else at for at, off in rows.values_list("planned_at", "called_off")]
    steps = [at for at, _same in groupby([*told, None if called_off else planned_at])]
    return len(steps) - 1


def _entry(treatment: Treatment, content: NoticeContent) -> bytes:
    """The visit for a calendar; of a visit that was told of for other times before, the next version."""
    sequence = _versions(treatment, content.planned_at, content.called_off)
    stamped = treatment.created_at + timedelta(seconds=sequence)
    return calendar_entry(content, f"{treatment.pk}@visits", sequence, stamped)
