"""What the rules of kind notice ask of one treatment: who is told, by when, how, saying what."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Protocol

from shared.wording import Sayable, Wording


@dataclass(frozen=True)
class Addressee:
    """One that must be told, or (with a `doubt`) may have to be.

    `to`: a word of the list `recipient`. `number`: the place in `context.neighbours` or
    `context.registered_persons`, from 0; None for the others, of whom there is one.
    """

    to: str
    number: int | None = None
    doubt: Sayable | None = None


@dataclass(frozen=True)
class Told:
    """A notice that was given: to whom (by number, else by name; neither: to one that the record does not
    name), how, when, and the days that it names."""

    to: str
    number: int | None = None
    name: str = ""
    means: str | None = None
    language: str | None = None
    sent_at: datetime | None = None
    delivered_at: datetime | None = None
    planned_at: datetime | None = None
    alternates: tuple[date, ...] | None = None


class Holds(Protocol):
    """How long a notice stays good."""

    def say(self, language: str) -> str: ...

    def until(self, planned_at: datetime, alternates: Sequence[date] = ()) -> datetime | None:
        """The last start that it is good for, by the days that it names; None: for any later one."""
        ...


@dataclass(frozen=True)
class Duty:
    """What one rule of kind notice asks.

    `applies`: None where it can't be told; then `why` says what is missing, else why it does not apply.
    `lacks`: the members to fill in. `latest`: the latest moment that is in time for the planned start, local to
    the site; where a law counts from the end of the work, counted from its start, so that it is never too late.
    `when`: `before` the work, `during` or `after` it.
    """

    rule: str
    title: Wording
    cite: str
    source: str
    level: str
    doubt: Wording | None
    applies: bool | None
    why: Sayable | None
    lacks: tuple[str, ...]
    addressees: tuple[Addressee, ...]
    when: str
    latest: datetime | None
    lead: Sayable
    means: tuple[str, ...]
    languages: tuple[str, ...]
    on_request: bool
    contents: tuple[Sayable, ...]
    alternates: int
    all_alternates: bool
    holds: Holds
