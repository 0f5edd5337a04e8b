"""How long a notice stays good, and whether it serves a start: the rule itself is asked."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta

from compliance.facts_reader import VOCABULARY
from compliance.notices.duty import Told
from compliance.rulebook.facts import Branch, Facts, Items, Leaf, Node, Scope
from compliance.rulebook.finding import Basis, Finding
from compliance.rulebook.kind import Judgement, Listed
from compliance.rulebook.kinds.notice import Notice
from compliance.rulebook.told import Terms
from shared.wording import Sayable, Wording, fill

_DAY = timedelta(days=1)
_MOST_DAYS = 4000
_LAST = time(23, 59, 59)
_SAID = {
    "its_day": Wording("good on the day that it names", "vale el día que nombra"),
    "alternates": Wording(
        "good on the day that it names and on its alternate dates, at most {count}",
        "vale el día que nombra y en sus fechas alternativas, como máximo {count}",
    ),
    "valid": Wording("good for {length} from the time that it names", "vale {length} desde la hora que nombra"),
    "earliest": Wording(
        "given no more than {length} before the start", "dado como máximo {length} antes del inicio"
    ),
    "always": Wording("good for any later start", "vale para cualquier inicio posterior"),
}


@dataclass(frozen=True, eq=False)
class RuleHolds:
    """What one rule of kind notice says of a notice, in the scope in which the treatment is judged."""

    kind: Notice
    basis: Basis
    scope: Scope

    @property
    def _terms(self) -> Terms:
        return self.kind.terms

    def say(self, language: str) -> str:
        return Listed(tuple(self._said())).say(language)

    def judged(self, told: Sequence[Told], start: datetime) -> Judgement | None:
        """What the rule says of one person who was told this, for a start; None: nothing of it was for them, or
        the law counts from the end of the work, which is to come."""
        work = self._terms.lead.work(self.scope)
        if self._terms.lead.form == "after" and work.end is None:
            return None
        scope = self.scope if work.start == start else at_start(self.scope, start)
        return self.kind.served([notice_of(one) for one in told], self.kind.said, scope)

    def sentence(self, judgement: Judgement) -> Sayable:
        """A judgement as the rule says it."""
        return Finding(self.basis, judgement, self.basis.level, VOCABULARY).message

    def first_start(self, at: datetime) -> datetime:
        """The earliest start for which somebody who is told at this moment is told in time."""
        lead, facts = self._terms.lead, self.scope.facts
        if lead.form != "ahead":
            return at
        if lead.length.hours:
            return lead.length.after(at, facts).astimezone(UTC)
        day = facts.local(at).date()
        for later in range(_MOST_DAYS):
            start = facts.local(datetime.combine(day + later * _DAY, time()))
            if lead.length.before(start, facts) >= at:
                return start.astimezone(UTC)
        return lead.length.after(at, facts).astimezone(UTC)

    def until(self, planned_at: datetime, alternates: Sequence[date] = ()) -> datetime | None:
        """The last start that it is good for, by the days that it names; None: for any later one."""
        days, local = self._terms.days, self.scope.facts.local
        ends = []
        if self._terms.valid:
            ends.append(self._terms.valid.after(planned_at, self.scope.facts))
        if days.its_day or days.alternates is not None:
            named = max(local(planned_at).date(), *alternates[: days.alternates], date.min)
            ends.append(local(datetime.combine(named, _LAST)))
        return min(ends, key=lambda end: end.astimezone(UTC), default=None)

    def _said(self) -> list[Sayable | str]:
        terms, found = self._terms, []
        if terms.days.alternates:
            found.append(Filled("alternates", str(terms.days.alternates)))
        elif terms.days.its_day or terms.days.alternates == 0:
            found.append(Filled("its_day"))
        if terms.valid:
            found.append(Filled("valid", length=terms.valid))
        if terms.earliest:
            found.append(Filled("earliest", length=terms.earliest))
        return [*found] or [Filled("always")]


@dataclass(frozen=True)
class Filled:
    """A phrase on how long a notice holds."""

    phrase: str
    count: str = ""
    length: Sayable | None = None

    def say(self, language: str) -> str:
        return fill(_SAID[self.phrase], {"count": self.count, "length": self.length or ""}, language)


def at_start(scope: Scope, start: datetime) -> Scope:
    """The same scope for a start at that moment, as if nothing were done yet."""
    facts = scope.facts
    planned = Leaf(start.astimezone(UTC), ("timing.planned_at",))
    timing = Branch("timing", {"planned_at": planned})
    members = {**facts.root.members, "timing": timing}
    moved: Facts = replace(
        facts, root=Branch(facts.root.path, members), day=facts.local(start).date(), stage="planned"
    )
    return Scope.of(moved, scope.subject)


def notice_of(told: Told) -> Branch:
    """A notice as rules read it."""
    path = "notices[0]"
    stated = {
        "to": told.to,
        "means": told.means,
        "language": told.language,
        "sent_at": told.sent_at,
        "delivered_at": told.delivered_at,
        "planned_at": told.planned_at,
        "name": told.name if told.number is None and told.name else None,
        "otherwise": told.otherwise or None,
    }
    members: dict[str, Node] = {
        name: Leaf(value, (f"{path}.{name}",)) for name, value in stated.items() if value is not None
    }
    if told.alternates is not None:
        about = (f"{path}.alternate_dates",)
        members["alternate_dates"] = Items(tuple(Leaf(day, about) for day in told.alternates), about)
    return Branch(path, members)
