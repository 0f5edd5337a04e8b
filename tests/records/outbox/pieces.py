"""A notice that is ready to go, for tests: invented people in an invented town."""

from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID

from records.outbox.piece import Attachment, Piece

CARD = Attachment("visit.ics", "text/calendar", b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n")
PIECE = Piece(
    to="neighbour",
    name="P. Sandoval",
    address=("12 Heron Row", "Port Quill, WA 98000"),
    email="sandoval@example.net",
    phone="+1 360 555 0142",
    means="email",
    languages=("en", "es"),
    subject="Roof treatment next door on September 14",
    text="We treat the roof of 4 Heron Row on September 14.",
    attachments=(CARD,),
    planned_at=datetime.fromisoformat("2026-09-14T09:00:00-07:00"),
    until=datetime.fromisoformat("2026-09-14T12:00:00-07:00"),
    alternate_dates=(),
    rules=("us-wa/notice-1",),
    neighbour=UUID("7b1c4b1e-7b8d-4d7a-8d43-4f0c8d8e2a01"),
)


def piece(**changes: Any) -> Piece:
    return replace(PIECE, **changes)
