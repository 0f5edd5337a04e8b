"""What rules ask of one planned treatment: who is told, which signs stand, what is due afterwards."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Protocol

from compliance.rulebook.contents import Content
from compliance.rulebook.kind import Judgement
from compliance.rulebook.kinds.posting import Posting
from shared.wording import Sayable, Wording


@dataclass(frozen=True)
class Addressee:
    """One that must be told, or (with a `doubt`) may have to be.

    `to`: a word of the list `recipient`; one of `instead` will do as well. `number`: the place, from 0, in
    `context.neighbours` or `context.registered_persons`; None for the others, of whom there is one.
    """

    to: str
    number: int | None = None
    doubt: Sayable | None = None
    instead: tuple[str, ...] = ()


NOBODY = -1
"""The number of who is in no list any more."""


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
    otherwise: bool = False
    """It said of the visit something else than is planned."""


class Holds(Protocol):
    """How long a notice stays good."""

    def __hash__(self) -> int: ...

    def say(self, language: str) -> str: ...

    def judged(self, told: Sequence[Told], start: datetime) -> Judgement | None:
        """What the rule says of one person who was told this, for a start; None: nothing of it was for them."""
        ...

    def sentence(self, judgement: Judgement) -> Sayable:
        """A judgement as the rule says it."""
        ...

    def first_start(self, at: datetime) -> datetime:
        """The earliest start for which somebody who is told at this moment is told in time."""
        ...

    def until(self, planned_at: datetime, alternates: Sequence[date] = ()) -> datetime | None:
        """The last start that it is good for, by the days that it names; None: for any later one."""
        ...


@dataclass(frozen=True)
class Ground:
    """A rule that holds at the site.

    `applies`: None where it can't be told; then `why` says what is missing, else why it does not apply.
    `lacks`: the members to fill in.
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


@dataclass(frozen=True)
class Duty(Ground):
    """What one rule of kind notice asks.

    `latest`: the latest moment that is in time for the planned start, local to the site; where a law counts
    from the end of the work it is counted from its start, so that it is never too late. `when`: `before` the
    work, `during` or `after` it.
    """

    addressees: tuple[Addressee, ...]
    when: str
    latest: datetime | None
    lead: Sayable
    means: tuple[str, ...]
    languages: tuple[str, ...]
    on_request: bool
    contents: tuple[Content, ...]
    alternates: int
    all_alternates: bool
    holds: Holds


@dataclass(frozen=True)
class Signs(Ground):
    """What one rule of kind posting asks: at least so many signs (`least`), up by `latest`, down no sooner than
    `until` (None: the law was not read on it, or no start is known). `kind`: to draw it by."""

    when: str
    latest: datetime | None
    lead: Sayable
    least: int
    where: Wording | None
    spacing: Sayable | None
    size: Sayable | None
    until: datetime | None
    kind: Posting


@dataclass(frozen=True)
class Later(Ground):
    """A copy, report or other thing that is due after the work. `what`: a word of the list `follow_up`, or
    `report`; `to`: whom a report goes to."""

    what: str
    due: datetime | None
    to: Wording | None
