"""Work that went over midnight: what is asked of its day is asked of the first and of the last one."""

from collections.abc import Callable
from datetime import date, datetime, timedelta

from compliance.rulebook.facts import Branch, Scope, leaf_of
from compliance.rulebook.kind import Judgement, missing
from compliance.rulebook.outcome import Outcome

_FINISHED, _A_DAY = "timing.finished_at", timedelta(days=1)


def on_each_day(scope: Scope, judge: Callable[[date], Judgement], differ: str) -> Judgement:
    """What holds on both days; can't tell, in the sentence `differ`, where it is met on one and not on the
    other, for no record says who did what on which day."""
    day = scope.facts.day
    if day is None:
        return missing(scope.facts.day_lacks)
    first, end = judge(day), _last_day(scope)
    if end is None and scope.facts.stage == "finished" and judge(day + _A_DAY).outcome is not first.outcome:
        return missing((_FINISHED,)) if first.outcome is Outcome.MET else first
    if end is None or end <= day:
        return first
    last = judge(end)
    if first.outcome is last.outcome:
        return first
    for one in (first, last):
        if one.outcome is Outcome.CANT_TELL:
            return one
    about = tuple(dict.fromkeys((*first.about, *last.about, _FINISHED)))
    blanks = {"day": day.isoformat(), "last": end.isoformat()}
    return Judgement(Outcome.CANT_TELL, differ, about, blanks)


def _last_day(scope: Scope) -> date | None:
    timing = scope.facts.root.members.get("timing")
    at = leaf_of(timing, "finished_at").value if isinstance(timing, Branch) else None
    return scope.facts.local(at).date() if isinstance(at, datetime) else None
