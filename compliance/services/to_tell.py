"""One person who is to be told of a planned treatment, or of what has become of it."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from compliance.notices.tellings import Telling
from compliance.notices.ways import Contact
from compliance.papers.notice import NoticeContent
from compliance.services.live import may_serve
from records.models import Notice
from records.outbox.outdated import IN_HAND
from shared.digests import digest


@dataclass(frozen=True)
class ToTell:
    """One person, and what can be done to tell them. `live`: notices of this plan that went out or will.
    `word`: the last that went out to them, where it no longer holds. `failed`: the means by which they were not
    reached."""

    telling: Telling
    contact: Contact
    ways: tuple[str, ...]
    languages: tuple[str, ...]
    live: tuple[Notice, ...]
    word: Notice | None = None
    failed: frozenset[str] = frozenset()

    @property
    def in_hand(self) -> tuple[Notice, ...]:
        """Those of this plan that told them, or may have."""
        return tuple(one for one in self.live if one.state in IN_HAND)

    @property
    def waiting(self) -> tuple[Notice, ...]:
        """Those of this plan that have not gone out yet: the next one goes out instead."""
        return tuple(one for one in self.live if one.state == Notice.State.READY)

    @property
    def key(self) -> str:
        """What stands for them on the page; once they are told, or told of a change, it is another: who had
        ticked them before does not tell them twice."""
        replaces = (self.word.pk,) if self.word else ()
        told = sorted(one.pk for one in self.in_hand)
        named = (self.contact.row, self.telling.to, self.telling.number, *replaces, *told)
        return digest(repr(named).encode())[7:23]

    @property
    def can_be_told(self) -> bool:
        """Whether a way is known that has not failed."""
        return any(one not in self.failed for one in self.ways)

    @property
    def is_due(self) -> bool:
        """Whether they are to be told now: they were told otherwise, or a rule that applies asks for it and
        nothing tells them or is on its way."""
        if self.word:
            return True
        asked = [one for one in self.telling.asks if one.duty.when == "before" and not one.duty.on_request]
        return bool(asked) and self.telling.state != "in-time" and not may_serve(self.telling, self.live)

    def latest(self, content: NoticeContent) -> datetime | None:
        """Until when it is worth sending: a change is told even where it is too late for the rules, and that a
        visit is off until its day is over."""
        latest, start = self.telling.latest, content.planned_at
        if self.word is None or start is None:
            return latest
        return start + timedelta(days=1) if content.called_off else max(latest or start, start)
