"""A planned treatment in time: who is told by when, the earliest lawful start, a move to another day. Pure."""

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, time
from functools import cache, cached_property
from typing import Literal

from compliance.notices.duties import Duties, duties_of, planned_for
from compliance.notices.duty import Holds, Later, Signs, Told
from compliance.notices.tellings import Asking, State, Telling, in_utc, tellings_of
from compliance.notices.told import told_in
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.pack import Pack
from records.document.context import Context
from records.document.days import moment_of
from records.document.types import TreatmentDocument

EventKind = Literal["tell", "stale", "signs-up", "start", "signs-down", "later"]
_ORDER: tuple[EventKind, ...] = ("tell", "stale", "signs-up", "start", "signs-down", "later")
_NOT_IN_TIME: tuple[State, ...] = ("not-told", "wrong", "unknown")
_LAST = datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True)
class Event:
    """Something that is due, or comes to an end, at a moment (None: it can't be told when)."""

    kind: EventKind
    at: datetime | None
    tellings: tuple[Telling, ...] = ()
    signs: Signs | None = None
    later: Later | None = None


@dataclass(frozen=True)
class Moved:
    """What another start would mean for those who were told: who must be told again, whose notice covers it (by
    an alternate date that it names, or otherwise), who must be told for the first time, who no longer."""

    again: tuple[Telling, ...]
    by_alternate: tuple[Telling, ...]
    covered: tuple[Telling, ...]
    first: tuple[Telling, ...]
    no_longer: tuple[Telling, ...]


@dataclass(frozen=True)
class Plan:
    """One treatment as it is planned, and what was sent for it. `packs`: all that may apply."""

    document: TreatmentDocument
    context: Context
    packs: Sequence[Pack]
    told: tuple[Told, ...]

    @classmethod
    def of(cls, document: TreatmentDocument, context: Context, packs: Sequence[Pack]) -> "Plan":
        """With the notices that the document itself states."""
        return cls(document, context, packs, told_in(document))

    @cached_property
    def start(self) -> datetime | None:
        moment = moment_of(self.document)
        return moment and self.duties.facts.local(moment)

    @cached_property
    def duties(self) -> Duties:
        return duties_of(self.document, self.context, self.packs)

    @cached_property
    def tellings(self) -> tuple[Telling, ...]:
        return tellings_of(self.duties, self.told, self.context, self.start)

    @property
    def untold(self) -> int:
        """How many rules on notices can't be told for want of something."""
        return sum(duty.applies is None for duty in self.duties.notices)

    def moved_to(self, start: datetime, context: Context | None = None) -> "Plan":
        """The same plan for another start; `context`: what is known of that day, where it differs."""
        return replace(self, document=planned_for(self.document, start), context=context or self.context)

    def moved(self, other: "Plan") -> Moved:
        """What becomes of those who were told, if it were done as that plan says."""
        now = {(one.to, one.number) for one in other.tellings}
        told = [one for one in other.tellings if one.told and one.state != "if-asked"]
        good = [one for one in told if one.state == "in-time"]
        alternate = [one for one in good if _by_alternate(one, other)]
        return Moved(
            tuple(one for one in told if one not in good),
            tuple(alternate),
            tuple(one for one in good if one not in alternate),
            tuple(one for one in other.tellings if not one.told and one.state != "if-asked"),
            tuple(one for one in self.tellings if one.told and (one.to, one.number) not in now),
        )

    def earliest(self, now: datetime, *, as_sent: bool = False) -> datetime | None:
        """The earliest lawful start as far as notices go, if whoever was not told in time is told now, or else
        (where what was sent is good for no such start) everybody is told again; with `as_sent` by what was sent
        alone: None, if that is good for no start."""
        asks = [(one, telling.told) for telling in self.tellings for one in telling.asks if one.binds]

        @cache
        def good(holds: Holds, told: tuple[Told, ...], start: datetime) -> bool:
            judged = holds.judged(told, start)
            return judged is not None and judged.outcome is Outcome.MET

        def lawful(start: datetime, again: Container[State]) -> bool:
            return all(
                (one.state in again and in_utc(one.duty.holds.first_start(now)) <= start)
                or good(one.duty.holds, _unnamed(told), start)
                for one, told in asks
            )

        possible = sorted({max(in_utc(now), in_utc(at)) for at in self._turns(asks, now)})
        for again in ((),) if as_sent else (_NOT_IN_TIME, (*_NOT_IN_TIME, "in-time")):
            for start in possible:
                if lawful(start, again):
                    return self.duties.facts.local(start)
        return None

    def _turns(self, asks: Sequence[tuple[Asking, tuple[Told, ...]]], now: datetime) -> Iterator[datetime]:
        """Every moment from which a notice may be good: nothing else can be the earliest start."""
        local = self.duties.facts.local
        yield now
        for holds in {one.duty.holds for one, _ in asks}:
            yield holds.first_start(now)
        for holds, one in {(each.duty.holds, one) for each, told in asks for one in _unnamed(told)}:
            yield from (holds.first_start(at) for at in (one.sent_at, one.delivered_at) if at)
            named = [local(one.planned_at).date()] if one.planned_at else []
            yield from (local(datetime.combine(day, time())) for day in (*named, *(one.alternates or ())))
            yield from [one.planned_at] if one.planned_at else []

    def events(self) -> tuple[Event, ...]:
        """Everything in order of time; what has no moment last."""
        found = [*self._tells(), *self._stale(), *self._signs()]
        found.append(Event("start", self.start))
        found += [Event("later", one.due, later=one) for one in self.duties.later if one.applies]
        return tuple(sorted(found, key=_when))

    def _tells(self) -> Iterator[Event]:
        asked = [one for one in self.tellings if one.state != "if-asked"]
        for at in dict.fromkeys(one.latest for one in asked):
            yield Event("tell", at, tuple(one for one in asked if one.latest == at))

    def _stale(self) -> Iterator[Event]:
        """The last moment of what was sent last, by the strictest of the rules that asked for it."""
        ends: dict[datetime, list[Telling]] = {}
        for telling in self.tellings:
            for one in _last(telling.told):
                if one.planned_at and not one.otherwise:
                    known = [
                        each.duty.holds.until(one.planned_at, one.alternates or ()) for each in telling.asks
                    ]
                    if end := min((at for at in known if at), key=in_utc, default=None):
                        ends.setdefault(end, []).append(telling)
        for end, tellings in ends.items():
            yield Event("stale", end, tuple(dict.fromkeys(tellings)))

    def _signs(self) -> Iterator[Event]:
        for one in self.duties.signs:
            if one.applies:
                yield Event("signs-up", one.latest, signs=one)
                yield Event("signs-down", one.until, signs=one)


def _when(event: Event) -> tuple[datetime, int]:
    return in_utc(event.at) if event.at else _LAST, _ORDER.index(event.kind)


def _last(told: tuple[Told, ...]) -> tuple[Told, ...]:
    """Those that were sent last, in each language; earlier ones they replaced."""
    newest = max((in_utc(one.sent_at) for one in told if one.sent_at), default=None)
    return tuple(one for one in told if one.sent_at is None or in_utc(one.sent_at) == newest)


def _unnamed(told: tuple[Told, ...]) -> tuple[Told, ...]:
    """Without whom of a list they were for: forty notices of one moment are judged once."""
    return tuple(one if one.number is None else replace(one, number=0, name="") for one in told)


def _by_alternate(telling: Telling, plan: Plan) -> bool:
    day = plan.start.date() if plan.start else None
    return any(day in (one.alternates or ()) for one in telling.told)
