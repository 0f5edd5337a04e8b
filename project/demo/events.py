"""What happened beside the ordinary: who stood down, what went wrong, which tank was shared, what came later.

The story's file gives a day and what happened; it happened to the first visit from then on to which it could.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any

from project.demo.source import FirmSource
from project.demo.visits import Visit

CAN_HAPPEN: dict[str, Callable[[Visit], bool]] = {
    "late-record": lambda visit: True,
    "wind-over-limit": lambda visit: visit.job.name == "roof" and visit.product == "moss-wash",
    "missing-wind": lambda visit: visit.product != "clove-spray",
    "downspouts-left": lambda visit: visit.job.name == "roof" and visit.product == "moss-wash",
    "drain-left-open": lambda visit: visit.job.name == "hard",
    "too-strong": lambda visit: visit.product == "moss-wash" and not visit.small,
    "lapsed-licence": lambda visit: True,
}


@dataclass
class Events:
    """The visits as they went, and by the index of each what happened to it, as rows of the story's file."""

    visits: list[Visit]
    stood_down: dict[int, dict[str, Any]] = field(default_factory=dict)
    faults: dict[int, dict[str, Any]] = field(default_factory=dict)
    corrections: dict[int, dict[str, Any]] = field(default_factory=dict)
    follow_ups: dict[int, list[dict[str, Any]]] = field(default_factory=dict)
    shared_tank: tuple[int, ...] = ()


def events_of(source: FirmSource, visits: list[Visit]) -> Events:
    story = source.story
    visits, shared = with_shared_tank(story.get("shared_tank"), visits)
    events = Events(visits, shared_tank=shared)
    windy = {row["on"]: row for row in story.get("stood_down", [])}
    events.stood_down = {v.index: windy[str(v.day)] for v in visits if str(v.day) in windy}
    busy = set(events.stood_down) | set(shared)
    for row in story.get("faults", []):
        visit = first(visits, row, CAN_HAPPEN[row["what"]], busy)
        events.faults[visit.index] = row
        busy.add(visit.index)
    for row in story.get("corrections", []):
        visit = first(visits, row, has_slopes_to_spray, busy)
        events.corrections[visit.index] = row
    for row in story.get("follow_ups", []):
        for visit in followed(visits, row, events):
            events.follow_ups.setdefault(visit.index, []).append(row)
    return events


def has_slopes_to_spray(visit: Visit) -> bool:
    return visit.job.name == "roof" and len(visit.job.surfaces) > 1 and not visit.by_hand


def first(visits: list[Visit], row: dict[str, Any], fits: Callable[[Visit], bool], busy: set[int]) -> Visit:
    who = row.get("applicator")
    able = (v for v in visits if str(v.day) >= row["from"] and v.index not in busy and fits(v))
    return next(v for v in able if who in (None, v.applicator))


def followed(visits: list[Visit], row: dict[str, Any], events: Events) -> list[Visit]:
    """The visits that a row of follow-ups is for: every so manieth to which it can happen, or one."""
    job = row.get("job", {"feature-restored": "roof", "sign-removed": "hard"}.get(row["kind"]))

    def wanted(visit: Visit) -> bool:
        return job in (None, visit.job.name) and row.get("feature") in (None, *visit.job.features)

    if "every" in row:
        able = [v for v in visits if v.index not in events.stood_down and wanted(v)]
        return able[:: int(row["every"])]
    return [first(visits, row, wanted, set(events.stood_down))]


def with_shared_tank(row: dict[str, Any] | None, visits: list[Visit]) -> tuple[list[Visit], tuple[int, ...]]:
    """The first two visits of one day with the product go out with one rig, one person and one mix."""
    if row is None:
        return visits, ()
    tanks = [v for v in visits if v.product == row["product"] and not v.small]
    able = [v for v in tanks if str(v.day) >= row["from"]]
    first, second = next((a, b) for a, b in pairwise(able) if a.day == b.day)
    shared = ("rig", "applicator", "helper", "way", "turn")
    second = replace(second, **{name: getattr(first, name) for name in shared})
    return [second if v.index == second.index else v for v in visits], (first.index, second.index)
