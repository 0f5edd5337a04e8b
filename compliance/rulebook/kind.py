"""What every kind of rule has in common: it judges one scope and can say which outcomes it may give."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from typing import ClassVar, Self

from compliance.rulebook.bounds import Bounds
from compliance.rulebook.facts import Paths, Scope
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params
from compliance.rulebook.sizes import Size
from compliance.rulebook.vocabulary import Measure
from shared.values import Value
from shared.wording import Blank, Catalogue, Sayable, Wording


@dataclass(frozen=True)
class Limited:
    """A quantity that a rule bounds, for the limits in force."""

    measure: Measure
    bounds: Bounds

    @cached_property
    def sides(self) -> tuple[tuple[str, Size, tuple[str, str]], ...]:
        """Each end that it has: `min` or `max`, its size, and with what that may be compared: the quantity and
        its dimension."""
        name = self.measure.name.removesuffix("_min")
        ends = (("min", self.bounds.min), ("max", self.bounds.max))
        return tuple(
            (side, size, (name, "count" if isinstance(size, int) else size.dimension))
            for side, size in ends
            if size is not None
        )


Seen = str | Size | Bounds | None


class _Nothing(Mapping[str, Blank]):
    """No blanks: one for all sentences without, since a check makes a hundred judgements."""

    def __getitem__(self, name: str) -> Blank:
        raise KeyError(name)

    def __iter__(self) -> Iterator[str]:
        return iter(())

    def __len__(self) -> int:
        return 0

    def __hash__(self) -> int:
        return 0


_NOTHING = _Nothing()


class Judgement(Value, frozen=True):
    """What a kind says of one scope.

    `wording` is an id of the kind's catalogue, filled with `blanks` and the engine's `by`, `members`, `mend`.
    `absence`: the outcome comes from something that is not there, so until it is due it is 'still to do'.
    """

    outcome: Outcome
    wording: str
    about: Paths
    blanks: Mapping[str, Blank] = _NOTHING
    observed: Seen = None
    bound: Seen = None
    due: datetime | None = None
    keep_until: date | None = None
    absence: bool = False
    mend: Wording | None = None


def missing(lacks: Paths, bound: Seen = None, why: Sayable | None = None) -> Judgement:
    """Can't tell, because these members are not stated; or, with `why`, because they do not go together."""
    about = tuple(dict.fromkeys(lacks))
    if why is not None:
        return Judgement(Outcome.CANT_TELL, "do_not_meet", about, {"why": why}, bound=bound)
    return Judgement(Outcome.CANT_TELL, "missing", about, bound=bound, absence=True)


class Listed(Value, frozen=True):
    """Several things said one after another, with commas."""

    parts: tuple[Sayable | str, ...]

    def say(self, language: str) -> str:
        said = (part if isinstance(part, str) else part.say(language) for part in self.parts)
        return ", ".join(dict.fromkeys(said))


class Kind:
    """A kind of rule: a small class that reads its own parameters and says its own why."""

    name: ClassVar[str]
    judges: ClassVar[tuple[str, ...]] = ("document", "products", "people", "mixes", "surfaces")
    wordings: ClassVar[Catalogue] = {}
    judging: ClassVar[bool] = True
    retired: ClassVar[bool] = False

    @classmethod
    def read(cls, params: Params) -> Self:
        """The kind with its parameters; every key that is read is ticked off. Raises RuleError."""
        raise NotImplementedError

    def judge(self, scope: Scope) -> Judgement:
        """The outcome for one scope, given that the rule applies to it."""
        raise NotImplementedError

    def judge_each(self, scope: Scope) -> tuple[Judgement, ...]:
        """The outcomes of a kind that judges several things in one scope; most judge one."""
        return (self.judge(scope),)

    def possible(self) -> frozenset[Outcome]:
        """The outcomes that `judge` can give."""
        raise NotImplementedError

    def judge_nothing(self, lacks: Paths) -> Judgement:
        """The outcome if there is nothing to judge, though there should be: these members are missing."""
        return missing(lacks)

    def limits(self) -> tuple[Limited, ...]:
        """The quantities that the rule bounds."""
        return ()
