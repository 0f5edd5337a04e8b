"""The days that a notice names, against the day of the treatment and against how many it must name."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from compliance.rulebook.facts import Branch, Items, Leaf, Paths, Scope, leaf_of, member
from compliance.rulebook.kind import Judgement
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, as_count, as_yes_no, one_of
from shared.said_days import said_days
from shared.wording import Blank

NAMED = "named"


@dataclass(frozen=True)
class Days:
    """`alternates`: how many alternate dates a notice may name besides its own, and with `all_of_them` must.

    `its_day`: the notice names a day, and the treatment is on one that it names.
    """

    alternates: int | None
    all_of_them: bool
    its_day: str

    def judge(self, notice: Branch, told: Leaf, scope: Scope) -> Judgement | None:
        """What is wrong with the days, or can't be told of them; None if nothing is."""
        judged = [self._its_own(notice, scope), self._alternates(notice, told, scope)]
        found = [one for one in judged if one]
        found.sort(key=lambda one: one.outcome is not Outcome.NOT_MET)
        return found[0] if found else None

    def _its_own(self, notice: Branch, scope: Scope) -> Judgement | None:
        if self.alternates is None and not self.its_day:
            return None
        day, planned = scope.facts.day, leaf_of(notice, "planned_at")
        if day is None or not isinstance(planned.value, datetime):
            return _missing(planned.lacks or scope.facts.day_lacks)
        others = member(notice, "alternate_dates")
        days = [scope.facts.local(planned.value).date(), *_days(others)[: self.alternates]]
        if day in days:
            return None
        if self.alternates and isinstance(others, Leaf):
            return _missing(others.lacks)
        stated = ", ".join(one.isoformat() for one in days)
        blanks = {"named": said_days(days), "day": said_days([day])}
        return _broken("stale", day.isoformat(), stated, blanks, planned.about)

    def _alternates(self, notice: Branch, told: Leaf, scope: Scope) -> Judgement | None:
        """Whether it names as many alternate dates as it must: different ones, after the day on which it was
        given."""
        if not self.alternates or not self.all_of_them:
            return None
        others, planned = member(notice, "alternate_dates"), leaf_of(notice, "planned_at")
        if isinstance(others, Leaf):
            return _missing(others.lacks)
        known = [at.value for at in (planned, told) if isinstance(at.value, datetime)]
        if len(known) < 2:
            return _missing((*planned.lacks, *told.lacks))
        own, given = (scope.facts.local(moment).date() for moment in known)
        good = {day for day in _days(others) if day > given and day != own}
        if len(good) >= self.alternates:
            return None
        count, least = str(len(good)), str(self.alternates)
        about = others.about if isinstance(others, Items) else ()
        return _broken("alternates", count, least, {"count": count, "least": least}, about)


def read_days(params: Params) -> Days:
    """The keys on the days of a notice. Raises RuleError."""
    alternates = params.maybe("alternates", as_count)
    all_of_them = alternates is not None and params.maybe("all_of_them", as_yes_no)
    return Days(alternates, bool(all_of_them), params.maybe("its_day", one_of((NAMED,))) or "")


def _missing(lacks: Paths) -> Judgement:
    return Judgement(Outcome.CANT_TELL, "notice/missing", lacks, {}, absence=True)


def _broken(
    wording: str, observed: str, bound: str, blanks: Mapping[str, Blank], about: Paths
) -> Judgement:
    return Judgement(Outcome.NOT_MET, f"notice/{wording}", about, blanks, observed, bound)


def _days(node: object) -> list[date]:
    items = node.items if isinstance(node, Items) else ()
    return [item.value for item in items if isinstance(item, Leaf) and isinstance(item.value, date)]
