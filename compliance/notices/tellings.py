"""Each person that must be told, with all the rules that ask for it and how far it is done. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Literal

from compliance.notices.duties import Duties
from compliance.notices.duty import Addressee, Duty, Told
from compliance.notices.told import Person, share_out
from compliance.rulebook.kind import Judgement
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.wordings import Sentence
from records.document.context import Context
from shared.wording import Sayable

State = Literal["in-time", "not-told", "wrong", "unknown", "if-asked"]


@dataclass(frozen=True, eq=False)
class Asking:
    """One rule that asks for one person to be told. `judgement`: what it says of what they were told."""

    duty: Duty
    addressee: Addressee
    state: State
    judgement: Judgement | None

    @property
    def binds(self) -> bool:
        """Whether the start hangs on it: a required notice before the work, not only due to who asks for it."""
        return self.duty.level == "required" and self.duty.when == "before" and not self.duty.on_request


@dataclass(frozen=True, eq=False)
class Telling:
    """One person. `told`: the notices that they were given."""

    to: str
    number: int | None
    asks: tuple[Asking, ...]
    told: tuple[Told, ...]

    @property
    def instead(self) -> tuple[str, ...]:
        """Words of the list `recipient` that would do as well for every rule that asks."""
        every = [{one.addressee.to, *one.addressee.instead} - {self.to} for one in self.asks]
        return tuple(sorted(set.intersection(*every)))

    @property
    def latest(self) -> datetime | None:
        """The earliest of the moments: whoever is told by then is told in time for all rules."""
        moments = [one.duty.latest for one in self.asks if one.duty.latest and not one.duty.on_request]
        binding = [one.duty.latest for one in self.asks if one.duty.latest and one.binds]
        return min(binding or moments, key=in_utc, default=None)

    @property
    def must(self) -> bool:
        return any(one.binds and not one.addressee.doubt for one in self.asks)

    @property
    def perhaps(self) -> bool:
        """Whether it can't be told if they must."""
        return not self.must and any(one.binds for one in self.asks)

    @property
    def not_stated(self) -> tuple[Sayable, ...]:
        """What is to be entered first, to know whether they must be told; empty where no record can show it."""
        doubts = [one.addressee.doubt for one in self.asks if one.binds]
        said = [one.blanks.get("members") for one in doubts if isinstance(one, Sentence)]
        return tuple(one for one in said if one and not isinstance(one, str))

    @property
    def state(self) -> State:
        """The worst of what the rules say, of those that bind before others."""
        asks = [one for one in self.asks if one.binds] or self.asks
        return min((one.state for one in asks), key=_ORDER.index)


_ORDER: tuple[State, ...] = ("wrong", "not-told", "unknown", "in-time", "if-asked")


def tellings_of(
    duties: Duties, told: Sequence[Told], context: Context, start: datetime | None
) -> tuple[Telling, ...]:
    """Everybody whom a rule that applies names, each once, in the order of the lists."""
    asked: dict[Person, list[tuple[Duty, Addressee]]] = {}
    pairs = [(duty, one) for duty in duties.notices if duty.applies for one in duty.addressees]
    for duty, one in sorted(pairs, key=lambda pair: bool(pair[1].instead)):
        asked.setdefault(_person(one, asked), []).append((duty, one))
    shares = share_out(asked, told, context)
    in_order = sorted(asked, key=lambda person: (person[1] is not None, person[0], person[1] or 0))
    return tuple(_telling(person, asked[person], shares[person], start) for person in in_order)


def in_utc(moment: datetime) -> datetime:
    """The moment to compare by: clocks of one place that go back show some hours twice."""
    return moment.astimezone(UTC)


def _person(one: Addressee, asked: dict[Person, list[tuple[Duty, Addressee]]]) -> Person:
    """Who is asked for already, if they will do; else who is named first."""
    will_do = [(to, one.number) for to in (one.to, *one.instead)]
    return next((person for person in will_do if person in asked), will_do[0])


def _telling(
    person: Person, asked: list[tuple[Duty, Addressee]], share: tuple[Told, ...], start: datetime | None
) -> Telling:
    words = {word for _, one in asked for word in (one.to, *one.instead)}
    told = tuple(one for one in share if one.to in words)
    return Telling(*person, tuple(_asking(duty, one, told, start) for duty, one in asked), told)


def _asking(duty: Duty, one: Addressee, told: tuple[Told, ...], start: datetime | None) -> Asking:
    judgement = duty.holds.judged(told, start) if start else None
    return Asking(duty, one, _state(duty, told, judgement, start), judgement)


def _state(duty: Duty, told: tuple[Told, ...], judgement: Judgement | None, start: datetime | None) -> State:
    if judgement is None:
        if told and start is None:
            return "unknown"
        return "if-asked" if duty.on_request else "not-told"
    if judgement.outcome is Outcome.MET:
        return "in-time"
    return "wrong" if judgement.outcome is Outcome.NOT_MET else "unknown"
