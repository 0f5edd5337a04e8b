"""Incidents: those of the record, and those that a follow-up tells in its own words."""

from datetime import datetime

from compliance.rulebook.facts import Branch, Items, Leaf, Node, branches, leaf_of, member
from compliance.rulebook.sizes import Measured, elapsed

_INCIDENTS, _FOLLOW_UPS = "incidents", "context.follow_ups"


def incidents_of(root: Branch) -> Items:
    """All of them. A follow-up of no stated kind may be one."""
    own, told = _items(root.members.get("incidents"), _INCIDENTS), _items(_follow_ups(root), _FOLLOW_UPS)
    entries = tuple(_entered(one) for one in branches(own))
    kinds = [(one, leaf_of(one, "kind")) for one in branches(told)]
    later = tuple(_told(one) for one, kind in kinds if kind.value == "incident")
    unread = tuple(path for _, kind in kinds if kind.value is None for path in kind.lacks)
    return Items((*entries, *later), (*own.about, *told.about), (*own.lacks, *told.lacks, *unread))


def until_told(root: Branch, unit: str) -> tuple[Measured, ...]:
    """For each incident the time from when it happened until it was reported."""
    found = incidents_of(root)
    unknown = (Measured(None, found.lacks, found.lacks),) if found.lacks else ()
    return (*unknown, *(_until(one, unit) for one in branches(found)))


def _until(incident: Branch, unit: str) -> Measured:
    if leaf_of(incident, "report_said").value is None:
        return Measured(None, (_INCIDENTS,), (_INCIDENTS,))
    at, reported = leaf_of(incident, "at"), leaf_of(incident, "reported_at")
    about, early, late = (*reported.about, *at.about), at.value, reported.value
    if not isinstance(early, datetime) or not isinstance(late, datetime):
        lacks = (*reported.lacks, *at.lacks)
        return Measured(None, lacks, lacks)
    return Measured(elapsed(early, late, unit), about) if early <= late else Measured(None, about, about)


def _entered(incident: Branch) -> Branch:
    return Branch(incident.path, {**incident.members, "report_said": Leaf(True, (incident.path,))})


def _told(follow_up: Branch) -> Branch:
    """What a follow-up tells of an incident; whether it was reported does not stand there as data."""
    members: dict[str, Node] = {"kind": member(follow_up, "kind"), "at": member(follow_up, "at")}
    members["description"] = member(follow_up, "detail")
    members["report_said"] = Leaf(None, (_INCIDENTS,), (_INCIDENTS,))
    return Branch(follow_up.path, members)


def _follow_ups(root: Branch) -> Node | None:
    context = root.members.get("context")
    return context.members.get("follow_ups") if isinstance(context, Branch) else None


def _items(found: Node | None, path: str) -> Items:
    return found if isinstance(found, Items) else Items((), (path,), (path,), absent=True)
