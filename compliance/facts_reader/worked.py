"""The time that was worked: from start to finish, pauses taken off."""

from datetime import datetime, timedelta
from fractions import Fraction

from compliance.rulebook.facts import Branch, Items, branches, leaf_of
from compliance.rulebook.sizes import Exact

_MICROSECOND = timedelta(microseconds=1)
_MICROSECONDS_A_MINUTE = 60_000_000


def worked(root: Branch) -> Exact | None:
    """Minutes; None where start or finish is not stated. A pause without its start or end takes off nothing."""
    timing = root.members.get("timing")
    total = _minutes(timing) if isinstance(timing, Branch) else None
    if not isinstance(timing, Branch) or total is None:
        return None
    pauses = timing.members.get("pauses")
    for pause in branches(pauses) if isinstance(pauses, Items) else ():
        total -= _minutes(pause) or 0
    return Exact(total, "min")


def _minutes(part: Branch) -> Fraction | None:
    start, finish = leaf_of(part, "started_at").value, leaf_of(part, "finished_at").value
    if not isinstance(start, datetime) or not isinstance(finish, datetime):
        return None
    return Fraction((finish - start) // _MICROSECOND, _MICROSECONDS_A_MINUTE)
