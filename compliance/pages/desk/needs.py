"""One thing that needs a person, and the group of its kind."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time

from django.utils.functional import Promise

MOST = 10
_LAST = datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True)
class Need:
    """`due` is a moment or a day, None where no time is set. `state` is said where there is no due. What is
    `first` stands before all that is due: somebody may come to harm while it waits, or it is false already."""

    what: str | Promise
    about: str
    address: str
    due: datetime | date | None = None
    late: bool = False
    state: str | Promise = ""
    first: bool = False

    @property
    def due_at(self) -> datetime | None:
        """The moment, where it is one."""
        return self.due if isinstance(self.due, datetime) else None

    @property
    def due_on(self) -> date | None:
        """The day, where it is one; it counts whole."""
        return None if isinstance(self.due, datetime) else self.due

    @property
    def turn(self) -> tuple[bool, bool, datetime]:
        """What is late comes first, then by when it is due."""
        day = self.due_on or date.max
        by = _LAST if self.due is None else self.due_at or datetime.combine(day, time.max, UTC)
        return not self.first, not self.late, by


@dataclass(frozen=True)
class Group:
    """Things of one kind. `all` leads to where all of them stand; `count` is how many there are."""

    key: str
    title: str | Promise
    needs: tuple[Need, ...]
    all: str = ""
    count: int = 0

    @property
    def more(self) -> int:
        return max(0, self.count - len(self.needs))

    @property
    def late(self) -> int:
        return sum(each.late for each in self.needs)


def group(
    key: str, title: str | Promise, needs: Iterable[Need], where: str = "", count: int | None = None
) -> Group:
    """The first of them in their turn, all of which stand `where`. `count` None: these are all."""
    ordered = sorted(needs, key=lambda each: each.turn)
    return Group(key, title, tuple(ordered[:MOST]), where, len(ordered) if count is None else count)
