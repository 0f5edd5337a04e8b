"""One notice that is ready to go to one person by one means. Pure: who is told, and why, is settled before."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any
from uuid import UUID

from shared.canonical import canonical_bytes
from shared.digests import digest


@dataclass(frozen=True)
class Attachment:
    name: str
    media_type: str
    content: bytes


@dataclass(frozen=True)
class Piece:
    """Words as they will be read, in every language that it is written in."""

    to: str
    name: str
    address: tuple[str, ...]
    email: str
    phone: str
    means: str
    languages: tuple[str, ...]
    subject: str
    text: str
    attachments: tuple[Attachment, ...]
    planned_at: datetime
    until: datetime | None
    alternate_dates: tuple[date, ...]
    rules: tuple[str, ...]
    neighbour: UUID | None = None
    occupant: UUID | None = None
    registered: UUID | None = None
    latest: datetime | None = None
    """The last moment at which it is still in time; no part of what is told."""
    replaces: UUID | None = None
    """The notice to the same person whose time it changes or calls off: each is replaced once."""
    called_off: bool = False
    """Whether it says that the visit will not take place; the words say so, too."""
    known: tuple[UUID, ...] | None = None
    """The notices of this visit to the same person that whoever sends it knew of: beside any other it does not
    go out. None where it is sent whatever else they were told."""
    states: tuple[str, ...] = ()
    stated: str = ""
    """What its words say of the visit besides its time: by which codes, and a digest over it."""

    def __post_init__(self) -> None:
        if self.planned_at.tzinfo is None or (self.until and self.until.tzinfo is None):
            raise ValueError("a notice names moments in time")

    @property
    def row(self) -> UUID | None:
        """Of the person whom it came from, where there is one."""
        return self.neighbour or self.occupant or self.registered

    @property
    def digest(self) -> str:
        """Over everything that the person is told and how, attachments by their own digests."""
        return digest(canonical_bytes(self.said()))

    def said(self) -> Mapping[str, Any]:
        return {
            "to": self.to,
            "name": self.name,
            "address": list(self.address),
            "email": self.email,
            "phone": self.phone,
            "means": self.means,
            "languages": list(self.languages),
            "subject": self.subject,
            "text": self.text,
            "attachments": [
                {"name": one.name, "media_type": one.media_type, "sha256": digest(one.content)}
                for one in self.attachments
            ],
            "planned_at": _in_utc(self.planned_at),
            "until": _in_utc(self.until) if self.until else None,
            "alternate_dates": [day.isoformat() for day in self.alternate_dates],
            "rules": list(self.rules),
        }


def _in_utc(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat()
