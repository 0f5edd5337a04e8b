"""Of several notices to one person the newest is what they were told: days that only others name are off."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime

from compliance.rulebook.facts import Branch, Items, Leaf, Scope, leaf_of, member
from compliance.rulebook.recipients import name_of


def standing(notices: Sequence[Branch], scope: Scope) -> list[Branch]:
    """What one person was told and stands: the newest, and with it those that name the day of the work as it
    does, or (where it does not) the same days, or none."""
    newest = max(notices, key=_told, default=None)
    days = _days(newest, scope) if newest else frozenset()
    if newest is None or not days:
        return list(notices)
    at, day = _told(newest), scope.facts.day

    def stands(one: Branch) -> bool:
        named = _days(one, scope)
        return not named or _told(one) == at or (day in named if day in days else named == days)

    return [one for one in notices if stands(one)]


def standing_of_each(notices: Iterable[Branch], scope: Scope) -> list[Branch]:
    """The same for each person apart: there is one customer, and others are told apart by name alone."""
    notices, people = list(notices), dict[object, list[Branch]]()
    for place, one in enumerate(notices):
        to, name = leaf_of(one, "to").value, name_of(one)
        people.setdefault((to, name) if name or to == "customer" else place, []).append(one)
    kept = {id(one) for each in people.values() for one in standing(each, scope)}
    return [one for one in notices if id(one) in kept]


def _told(notice: Branch) -> float:
    moments = (leaf_of(notice, name).value for name in ("sent_at", "delivered_at"))
    return next((at.timestamp() for at in moments if isinstance(at, datetime)), 0.0)


def _days(notice: Branch, scope: Scope) -> frozenset[date]:
    planned, others = leaf_of(notice, "planned_at").value, member(notice, "alternate_dates")
    if not isinstance(planned, datetime):
        return frozenset()
    items = others.items if isinstance(others, Items) else ()
    alternates = (one.value for one in items if isinstance(one, Leaf))
    return frozenset(
        [scope.facts.local(planned).date(), *(day for day in alternates if isinstance(day, date))]
    )
