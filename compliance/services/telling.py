"""Make the notices of a planned treatment: each as its person will read it, by the means that was chosen."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import cached_property

from compliance.notices.tellings import Telling
from compliance.notices.timeline import Plan
from compliance.notices.ways import Contact, languages_of, ways_of
from compliance.papers.notice import (
    NoticeContent,
    Reader,
    content_of,
    email,
    phone_script,
    terms_of,
)
from compliance.services.contacts import contacts_of
from compliance.services.enclosures import enclosed
from compliance.services.notice_plan import plan_of
from compliance.services.notice_words import own_words_of
from records.models import Notice, Treatment
from records.outbox.piece import Piece
from shared.digests import digest

LIVE = tuple(state for state in Notice.State.values if state not in ("withdrawn", "refused"))
_ROWS = {"neighbour": "neighbour", "occupant": "occupant", "registered-person": "registered"}


@dataclass(frozen=True)
class Visit:
    """What every notice says of the visit besides its planned time. `filled`: what was typed for lines that no
    data answers, by the line's key."""

    until: datetime | None = None
    alternates: tuple[date, ...] = ()
    filled: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Choice:
    """How one person is told."""

    means: str
    languages: tuple[str, ...]


@dataclass(frozen=True)
class ToTell:
    """One person, and what can be done to tell them. `live`: notices of this plan that went out or will."""

    telling: Telling
    contact: Contact
    ways: tuple[str, ...]
    languages: tuple[str, ...]
    live: tuple[Notice, ...]

    @property
    def key(self) -> str:
        """What stands for them on the page."""
        return digest(repr((self.contact.row, self.telling.to, self.telling.number)).encode())[7:23]

    @property
    def is_due(self) -> bool:
        """Whether they are to be told now: a rule that applies asks for it, and nothing is on its way."""
        asked = [one for one in self.telling.asks if one.duty.when == "before" and not one.duty.on_request]
        return bool(asked) and not self.live and self.telling.state != "in-time"


@dataclass
class Round:
    """All that are to be told of a treatment as it is planned."""

    treatment: Treatment
    plan: Plan = field(init=False)

    def __post_init__(self) -> None:
        self.plan = plan_of(self.treatment)

    @cached_property
    def people(self) -> tuple[ToTell, ...]:
        live = self._live()
        otherwise = self.treatment.firm.language
        return tuple(
            ToTell(
                telling,
                contact,
                ways_of(telling, contact),
                languages_of(telling, contact, otherwise),
                tuple(one for one in live if _is_for(one, contact)),
            )
            for telling, contact in contacts_of(self.treatment, self.plan)
        )

    @cached_property
    def _own_words(self) -> Mapping[str, str]:
        return own_words_of(self.treatment.firm)

    @property
    def dates_needed(self) -> int:
        """How many alternate dates some rule wants the notices to name."""
        asks = [one.duty for person in self.people for one in person.telling.asks]
        return max((duty.alternates for duty in asks if duty.all_alternates), default=0)

    @property
    def dates_possible(self) -> int:
        """How many alternate dates the notices may name."""
        asks = [one.duty.alternates for person in self.people for one in person.telling.asks]
        return max(asks, default=0)

    def contents(
        self, chosen: Mapping[str, Choice], visit: Visit
    ) -> Iterator[tuple[ToTell, Choice, NoticeContent]]:
        """What each chosen person is told, in the order of the walk."""
        for person in sorted(self.people, key=lambda one: one.contact.walk):
            if choice := chosen.get(person.key):
                yield person, choice, self._content(person, choice, visit)

    def pieces(self, chosen: Mapping[str, Choice], visit: Visit) -> Iterator[Piece]:
        """The notices, ready to go. The same plan and choices give the same notices."""
        for person, choice, content in self.contents(chosen, visit):
            yield self._piece(person, choice, content, visit)

    def _content(self, person: ToTell, choice: Choice, visit: Visit) -> NoticeContent:
        asked = [one.duty for one in person.telling.asks]
        terms = replace(
            terms_of(asked, choice.languages[0], self._own_words),
            languages=choice.languages,
            dates=self.dates_needed,
            filled=visit.filled,
        )
        contact = person.contact
        reader = Reader(contact.to, contact.name, contact.address, contact.walk)
        return content_of(self.plan.document, reader, terms, visit.until, visit.alternates)

    def _piece(self, person: ToTell, choice: Choice, content: NoticeContent, visit: Visit) -> Piece:
        contact = person.contact
        subject, text = email(content)
        spoken = choice.means in ("phone", "in-person")
        rows = {name: contact.row for to, name in _ROWS.items() if to == contact.to}
        return Piece(
            to=contact.to,
            name=contact.name,
            address=contact.address,
            email=contact.email,
            phone=contact.phone,
            means=choice.means,
            languages=choice.languages,
            subject=subject,
            text=phone_script(content) if spoken else text,
            attachments=tuple(enclosed(self.treatment, contact, choice.means, content)),
            planned_at=self.planned_at,
            until=visit.until,
            alternate_dates=visit.alternates,
            rules=tuple(dict.fromkeys(one.duty.rule for one in person.telling.asks)),
            latest=person.telling.latest,
            **rows,
        )

    @property
    def planned_at(self) -> datetime:
        """The planned start. Raises ValueError where none is stated."""
        if self.plan.start is None:
            raise ValueError("no time is planned")
        return self.plan.start

    def _live(self) -> Sequence[Notice]:
        if self.plan.start is None:
            return ()
        told = Notice.objects.for_firm(self.treatment.firm).filter(treatment=self.treatment, state__in=LIVE)
        return list(told.filter(planned_at=self.plan.start))


def _is_for(notice: Notice, contact: Contact) -> bool:
    if notice.row or (contact.row and contact.to in _ROWS):
        return notice.row == contact.row
    return notice.to == contact.to
