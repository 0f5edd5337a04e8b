"""Make the notices of a planned treatment: each as its person will read it, by the means that was chosen."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import cached_property

from compliance.notices.duties import planned_for
from compliance.notices.tellings import Telling
from compliance.notices.timeline import Plan
from compliance.notices.ways import Contact, languages_of, ways_of
from compliance.papers.notice import (
    NoticeContent,
    Reader,
    content_of,
    digest_of,
    email,
    phone_script,
    terms_of,
)
from compliance.services.came_wrong import came_back
from compliance.services.contacts import again, contacts_of, failed_by, nobody_asks, unlisted
from compliance.services.enclosures import enclosed
from compliance.services.live import is_live
from compliance.services.notice_plan import plan_of
from compliance.services.notice_words import own_words_of
from compliance.services.stating import states_of
from compliance.services.to_tell import ToTell
from records.models import Notice, Treatment
from records.outbox.outdated import outdated
from records.outbox.piece import Piece
from shared.times import local_day

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


@dataclass
class Round:
    """All that are to be told of a treatment as it is planned."""

    treatment: Treatment
    plan: Plan = field(init=False)

    def __post_init__(self) -> None:
        self.plan = plan_of(self.treatment)

    @cached_property
    def people(self) -> tuple[ToTell, ...]:
        contacts = contacts_of(self.treatment, self.plan)
        known = [contact for _telling, contact in contacts]
        words = outdated(self.treatment, self._notices)
        gone = [one for one in words if not any(_is_for(one, contact) for contact in known)]
        contacts += unlisted(self.treatment, gone)
        back = came_back(self.treatment)
        people = (self._person(telling, contact, words, back) for telling, contact in contacts)
        return tuple(one for one in people if one.word or not self.treatment.is_off)

    @property
    def changed(self) -> tuple[ToTell, ...]:
        """Those who were told of something else than is planned, or of a visit that is called off."""
        return tuple(one for one in self.people if one.word)

    def _person(
        self, telling: Telling, contact: Contact, words: Sequence[Notice], back: Sequence[Notice]
    ) -> ToTell:
        word = next((one for one in words if _is_for(one, contact)), None)
        if self.treatment.is_off:
            telling = nobody_asks(telling.to, telling.number)
        own = tuple(word.languages) if word and not telling.asks else ()
        mine = [one for one in self._notices if _is_for(one, contact)]
        failed = failed_by(contact, word, mine, (one for one in back if _is_for(one, contact)))
        return ToTell(
            telling,
            contact,
            again(ways_of(telling, contact), word, failed),
            own or languages_of(telling, contact, self.treatment.firm.language),
            tuple(one for one in mine if is_live(one, self.treatment)),
            word,
            failed,
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
        contact, word = person.contact, person.word
        terms = replace(
            terms_of(asked, choice.languages[0], self._own_words),
            languages=choice.languages,
            dates=self.dates_needed,
            filled=visit.filled,
            called_off=self.treatment.is_off,
            replaces=local_day(word.planned_at, self.zone) if word else None,
            on_again=bool(word and word.called_off),
        )
        reader = Reader(contact.to, contact.name, contact.address, contact.walk)
        if word and self.treatment.is_off:
            return content_of(planned_for(self.plan.document, word.planned_at), reader, terms)
        return content_of(self.plan.document, reader, terms, visit.until, visit.alternates)

    def _piece(self, person: ToTell, choice: Choice, content: NoticeContent, visit: Visit) -> Piece:
        contact = person.contact
        subject, text = email(content)
        rows = {name: contact.row for to, name in _ROWS.items() if to == contact.to}
        states = states_of(self.plan.document, content, visit.filled, person.telling)
        return Piece(
            to=contact.to,
            name=contact.name,
            address=contact.address,
            email=contact.email,
            phone=contact.phone,
            means=choice.means,
            languages=choice.languages,
            subject=subject,
            text=phone_script(content) if choice.means == "phone" else text,
            attachments=tuple(enclosed(self.treatment, contact, choice.means, content)),
            planned_at=content.planned_at or self.planned_at,
            until=content.until,
            alternate_dates=content.alternates,
            rules=tuple(dict.fromkeys(one.duty.rule for one in person.telling.asks)),
            latest=person.latest(content),
            replaces=person.word and person.word.pk,
            called_off=content.called_off,
            known=tuple(one.pk for one in person.in_hand),
            states=states,
            stated=digest_of(self.plan.document, states) if states else "",
            **rows,
        )

    @property
    def planned_at(self) -> datetime:
        """The planned start. Raises ValueError where none is stated."""
        if self.plan.start is None:
            raise ValueError("no time is planned")
        return self.plan.start

    @property
    def zone(self) -> str:
        return self.treatment.site.time_zone or self.treatment.firm.time_zone

    @cached_property
    def _notices(self) -> Sequence[Notice]:
        return list(Notice.objects.for_firm(self.treatment.firm).filter(treatment=self.treatment))


def _is_for(notice: Notice, contact: Contact) -> bool:
    if notice.row or (contact.row and contact.to in _ROWS):
        return notice.row == contact.row
    return notice.to == contact.to
