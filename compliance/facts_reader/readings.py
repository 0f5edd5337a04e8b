"""Weather readings that belong to the treatment."""

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta

from compliance.rulebook.facts import Branch, Items, Leaf, Node, branches
from shared.quantities import Quantity

BEFORE_START = timedelta(minutes=30)
"""A reading counts from 30 minutes before the start: our reading of 'during'."""
AFTER_START = timedelta(minutes=10)
"""A reading is one at the start until 10 minutes after it: our reading of 'at the start'."""

_STILL_AIR = Quantity("0", "mph")
_READINGS = "weather.readings"


def belonging(root: Branch) -> Items:
    """Readings from 30 minutes before the start to the finish and outside of pauses, oldest first.

    While start or finish is not stated, it is unknown whether a reading that could lie outside belongs.
    """
    start, finish = moment(root, "started_at"), moment(root, "finished_at")
    earliest = start - BEFORE_START if start else None

    def belongs(at: datetime) -> bool | None:
        if (earliest and at < earliest) or (finish and at > finish):
            return False
        known = start is not None and (finish is not None or at <= start)
        return True if known else None

    return at_work(root, _chosen(root, belongs, _unstated(start, finish)))


def so_far(root: Branch, sure: Items) -> Items:
    """Of a treatment that isn't finished, the readings that surely belong and those that may: a crew must see
    in time that it has to wait or stop. Where one only may belong, the members that would tell are lacking."""
    if sure.absent:
        return sure
    start = moment(root, "started_at")
    may = _chosen(root, lambda at: start is None or start - BEFORE_START <= at, ())
    return Items(may.items, sure.about, sure.lacks)


def at_start(root: Branch) -> Items:
    """Readings from 30 minutes before the start to shortly after it, oldest first."""
    start = moment(root, "started_at")
    if start is None:
        return _chosen(root, lambda at: None, ("timing.started_at",))
    return _chosen(root, lambda at: start - BEFORE_START <= at <= start + AFTER_START, ())


def between(root: Branch) -> Items:
    """Readings between start and finish and outside of pauses, oldest first."""
    start, finish = moment(root, "started_at"), moment(root, "finished_at")
    if start is None or finish is None:
        return at_work(root, _chosen(root, lambda at: None, _unstated(start, finish)))
    return at_work(root, _chosen(root, lambda at: start <= at <= finish, ()))


def at_work(root: Branch, readings: Items) -> Items:
    """Without those that were taken inside a pause: nobody sprayed then. Its first and last moment are work.

    Where only one end of a pause is stated, it is unknown whether a reading that could lie inside belongs.
    """
    timing = root.members.get("timing")
    found = timing.members.get("pauses") if isinstance(timing, Branch) else None
    pauses = branches(found) if isinstance(found, Items) else []
    if not pauses:
        return readings
    work = moment(root, "started_at"), moment(root, "finished_at")
    items: list[Node] = []
    lacks = [*readings.lacks]
    for reading in readings.items:
        at = _time(reading, "at")
        open_ends = [_open_ends(pause, at, work) for pause in pauses] if at else []
        if not any(ends == () for ends in open_ends):
            unknown = [path for ends in open_ends for path in ends or ()]
            items += [] if unknown else [reading]
            lacks += unknown
    return Items(tuple(items), readings.about, tuple(dict.fromkeys(lacks)), readings.absent)


def _open_ends(pause: Branch, at: datetime, work: Sequence[datetime | None]) -> tuple[str, ...] | None:
    """None if the moment lies outside of the pause; nothing if it lies inside; else the ends that would tell.
    A pause lies within the work."""
    names = ("started_at", "finished_at")
    start, finish = (_time(pause, name) for name in names)
    earliest, latest = start or work[0], finish or work[1]
    if (earliest and at <= earliest) or (latest and at >= latest):
        return None
    return tuple(f"{pause.path}.{name}" for name in names if _time(pause, name) is None)


def moment(root: Branch, name: str) -> datetime | None:
    """A time of the treatment; None if it is not stated."""
    timing = root.members.get("timing")
    return _time(timing, name) if timing else None


def _time(owner: Node, name: str) -> datetime | None:
    found = owner.members.get(name) if isinstance(owner, Branch) else None
    return found.value if isinstance(found, Leaf) and isinstance(found.value, datetime) else None


def _unstated(start: datetime | None, finish: datetime | None) -> tuple[str, ...]:
    times = {"timing.started_at": start, "timing.finished_at": finish}
    return tuple(path for path, time in times.items() if time is None)


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
