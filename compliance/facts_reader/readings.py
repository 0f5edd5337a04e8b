"""Weather readings that belong to the treatment."""

from collections.abc import Callable
from datetime import datetime, timedelta

from compliance.rulebook.facts import Branch, Items, Leaf, Node, branches
from shared.quantities import Quantity

BEFORE_START = timedelta(minutes=30)
"""A reading counts from 30 minutes before the start: our reading of 'during'."""

_STILL_AIR = Quantity("0", "mph")
_READINGS = "weather.readings"


def belonging(root: Branch, stage: str) -> Items:
    """Readings from 30 minutes before the start to the finish, oldest first.

    Before the treatment has started every reading counts, so that the crew sees in time that it must wait.
    While no finish is stated, every reading after the start counts.
    """
    start, finish = moment(root, "started_at"), moment(root, "finished_at")
    if stage == "planned":
        return _chosen(root, lambda at: True, ())
    if start is None:
        return _chosen(root, lambda at: None, ("timing.started_at",))
    earliest = start - BEFORE_START
    return _chosen(root, lambda at: earliest <= at and (finish is None or at <= finish), ())


def between(root: Branch) -> Items:
    """Readings between start and finish, oldest first."""
    start, finish = moment(root, "started_at"), moment(root, "finished_at")
    if start is None or finish is None:
        lacks = tuple(f"timing.{name}" for name in ("started_at", "finished_at") if not moment(root, name))
        return _chosen(root, lambda at: None, lacks)
    return _chosen(root, lambda at: start <= at <= finish, ())


def moment(root: Branch, name: str) -> datetime | None:
    """A time of the treatment; None if it is not stated."""
    timing = root.members.get("timing")
    found = timing.members.get(name) if isinstance(timing, Branch) else None
    return found.value if isinstance(found, Leaf) and isinstance(found.value, datetime) else None


def _chosen(root: Branch, belongs: Callable[[datetime], bool | None], lacks: tuple[str, ...]) -> Items:
    weather = root.members.get("weather")
    found = weather.members.get("readings") if isinstance(weather, Branch) else None
    if not isinstance(found, Items):
        return Items((), (_READINGS,), (_READINGS,), absent=True)
    chosen: list[tuple[datetime, Node]] = []
    unsure: list[str] = []
    for reading in branches(found):
        at = reading.members.get("at")
        if not isinstance(at, Leaf) or not isinstance(at.value, datetime):
            unsure.append(f"{reading.path}.at")
        elif (answer := belongs(at.value)) is None:
            unsure += lacks
        elif answer:
            chosen.append((at.value, _calm(reading)))
    chosen.sort(key=lambda one: one[0])
    return Items(tuple(node for _, node in chosen), (_READINGS,), tuple(dict.fromkeys(unsure)))


def _calm(reading: Branch) -> Branch:
    """Calm air has a speed of nothing, also where none was written down."""
    calm = reading.members.get("calm")
    if not isinstance(calm, Leaf) or calm.value is not True or "wind_speed" in reading.members:
        return reading
    return Branch(reading.path, {**reading.members, "wind_speed": Leaf(_STILL_AIR, calm.about)})
