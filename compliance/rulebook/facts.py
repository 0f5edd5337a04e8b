"""Facts: what rules read. A tree of values that know where in the treatment document they stand.

A value that is not there knows which members it lacks, so that a rule can name them.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from compliance.rulebook.sizes import Exact, Measured
from shared.quantities import Quantity
from shared.values import Value
from shared.wording import Sayable

Paths = tuple[str, ...]
Scalar = str | bool | Fraction | Quantity | Exact | datetime | date


class Leaf(Value, frozen=True):
    """One value. `about` are the members that it comes from; `lacks` those that it would need, if None, or
    (`why`) that are there and do not go together. `stated`: something is there, though it does not tell."""

    value: Scalar | None
    about: Paths
    lacks: Paths = ()
    why: Sayable | None = None
    stated: bool = False


class Items(Value, frozen=True):
    """A list: the items known to be in it, and what would have to be known to know them all.

    `absent`: the list itself is left out. Without `lacks` the list is known completely.
    """

    items: tuple["Node", ...]
    about: Paths
    lacks: Paths = ()
    absent: bool = False


class Branch(Value, frozen=True):
    """An object: its members by name; a member that is left out is not among them."""

    path: str
    members: Mapping[str, "Node"]


Node = Leaf | Items | Branch


def branches(items: Items) -> list[Branch]:
    """The objects among the items of a list."""
    return [item for item in items.items if isinstance(item, Branch)]


class Subject(Value, frozen=True):
    """One thing that a rule judges: its path (empty for the document) and what stands under which root.

    `measure` gives the values of a measured quantity on it, in a unit where they are computed ones.
    """

    path: str
    roots: Mapping[str, Branch]
    measure: Callable[[str, str | None], tuple[Measured, ...]]
    name: str = ""


class Subjects(Value, frozen=True):
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
        """The firm's answer in force on the day of the treatment, the one given last; None if there is none, or
        if two that say different things began on the same day."""
        if self.day is None:
            return None
        day = self.day
        held = [each for each in self.answers or () if each.question == question and each.holds(day)]
        newest = max((each.valid_from or date.min for each in held), default=None)
        last = {each.answer for each in held if (each.valid_from or date.min) == newest}
        return last.pop() if len(last) == 1 else None


class Scope(Value, frozen=True):
    """What one judgement reads: the facts, the subject, and the item of the list that is gone through.

    `roots`: what stands under each root of a fact path, the document's members and the subject's parts.
    """

    facts: Facts
    subject: Subject
    roots: Mapping[str, Node]
    item: Node | None = None

    @classmethod
    def of(cls, facts: Facts, subject: Subject) -> "Scope":
        """The scope in which a subject is judged."""
        return cls(facts, subject, {**facts.root.members, **subject.roots})

    def within(self, item: Node) -> "Scope":
        """The same scope, one item further in."""
        return Scope(self.facts, self.subject, self.roots, item)

    def find(self, root: str) -> Node:
        """The node under a root: the item, a part of the subject, or a top-level member of the document."""
        if root == "item" and self.item is not None:
            return self.item
        return self.roots.get(root) or member(self.facts.root, root)


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
