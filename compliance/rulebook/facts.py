"""Facts: what rules read. A tree of values that know where in the treatment document they stand.

A value that is not there knows which members it lacks, so that a rule can name them.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from fractions import Fraction

from shared.quantities import UNITS, Quantity, from_fraction
from shared.times import said_time

Scalar = str | bool | Fraction | Quantity | datetime | date
Paths = tuple[str, ...]
_MICROSECOND = timedelta(microseconds=1)


@dataclass(frozen=True, slots=True)
class Leaf:
    """One value. `about` are the members that it comes from; `lacks` those that it would need, if None."""

    value: Scalar | None
    about: Paths
    lacks: Paths = ()


@dataclass(frozen=True, slots=True)
class Items:
    """A list: the items known to be in it, and what would have to be known to know them all.

    `absent`: the list itself is left out. Without `lacks` the list is known completely.
    """

    items: tuple["Node", ...]
    about: Paths
    lacks: Paths = ()
    absent: bool = False


@dataclass(frozen=True, slots=True)
class Branch:
    """An object: its members by name; a member that is left out is not among them."""

    path: str
    members: Mapping[str, "Node"]


Node = Leaf | Items | Branch


def branches(items: Items) -> list[Branch]:
    """The objects among the items of a list."""
    return [item for item in items.items if isinstance(item, Branch)]


@dataclass(frozen=True)
class Exact:
    """A computed size: exact inside, six significant digits when it is shown."""

    value: Fraction
    unit: str

    @property
    def dimension(self) -> str:
        return UNITS[self.unit].dimension

    @property
    def base(self) -> Fraction:
        """The exact value in the base unit of its dimension."""
        return self.value * UNITS[self.unit].factor

    def as_json(self) -> dict[str, str]:
        """The size as a quantity in JSON."""
        return from_fraction(self.value, self.unit).as_json()

    def say(self, language: str) -> str:
        """As a person reads it; hours as hours, minutes and seconds: `26 h 13 min`."""
        if self.unit == "hour" and self.value.denominator != 1:
            return said_time(self.value * 3600)
        return from_fraction(self.value, self.unit).say(language)


def elapsed(early: datetime, late: datetime, unit: str) -> Exact:
    """The time from one moment to another, in a unit of time; nothing if the second comes first."""
    seconds = max(Fraction(0), Fraction((late - early) // _MICROSECOND, 1_000_000))
    return Exact(seconds * UNITS["min"].factor / 60 / UNITS[unit].factor, unit)


Size = Quantity | Exact | int
"""What a limit compares: a quantity as entered, a computed one, or a count."""


@dataclass(frozen=True, slots=True)
class Measured:
    """One value of a quantity that a limit judges: per reading, surface or product. A count is an int.

    `value` None: it can't be computed, for lack of the members `lacks`.
    """

    value: Size | None
    about: Paths
    lacks: Paths = ()


@dataclass(frozen=True, slots=True)
class Subject:
    """One thing that a rule judges: its path (empty for the document) and what stands under which root.

    `measure` gives the values of a measured quantity on it, in a unit where they are computed ones.
    """

    path: str
    roots: Mapping[str, Branch]
    measure: Callable[[str, str | None], tuple[Measured, ...]]
    name: str = ""


@dataclass(frozen=True, slots=True)
class Subjects:
    """The things of one sort; `lacks`: what is missing if there are none though there should be."""

    subjects: tuple[Subject, ...]
    lacks: Paths = ()


@dataclass(frozen=True)
class Answer:
    """The firm's dated answer to an open question; both days count, None is open."""

    question: str
    answer: str
    valid_from: date | None = None
    valid_to: date | None = None

    def holds(self, day: date) -> bool:
        return (self.valid_from or day) <= day <= (self.valid_to or day)


@dataclass(frozen=True)
class Facts:
    """All that may be read about one treatment.

    `day` is the day of the treatment (None: unknown, for lack of `day_lacks`), `on` the day of the check.
    `stage` says how far the treatment has come: planned, started or finished. `places` run from wide to
    narrow; None if they are not stated. `local` gives a moment on the site's clock, `is_holiday` says whether
    a day is a holiday of a calendar of the vocabulary.
    """

    root: Branch
    subjects: Mapping[str, Subjects]
    day: date | None
    day_lacks: Paths
    on: date | None
    stage: str
    places: tuple[str, ...] | None
    local: Callable[[datetime], datetime]
    is_holiday: Callable[[str, date], bool]
    answers: tuple[Answer, ...] | None = None

    def answer_to(self, question: str) -> str | None:
        """The firm's answer in force on the day of the treatment; None if there is none."""
        if self.day is not None:
            for answer in self.answers or ():
                if answer.question == question and answer.holds(self.day):
                    return answer.answer
        return None


@dataclass(frozen=True, slots=True)
class Scope:
    """What one judgement reads: the facts, the subject, and the item of the list that is gone through."""

    facts: Facts
    subject: Subject
    item: Node | None = None

    def within(self, item: Node) -> "Scope":
        """The same scope, one item further in."""
        return Scope(self.facts, self.subject, item)

    def find(self, root: str) -> Node:
        """The node under a root: the item, a part of the subject, or a top-level member of the document."""
        if root == "item" and self.item is not None:
            return self.item
        return self.subject.roots.get(root) or member(self.facts.root, root)


def leaf_of(branch: Branch, name: str) -> Leaf:
    """The value of that name; one that is left out lacks itself."""
    found = member(branch, name)
    return found if isinstance(found, Leaf) else Leaf(None, (branch.path,))


def member(branch: Branch, name: str) -> Node:
    """The member of that name; one that is left out lacks itself."""
    found = branch.members.get(name)
    if found is not None:
        return found
    path = f"{branch.path}.{name}" if branch.path else name
    return Leaf(None, (path,), (path,))
