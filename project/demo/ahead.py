"""What the crew finds when it signs in: drafts of the day of loading and plans of the days after it."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import Any

from project.demo.visits import Calendar, Visit

LOOKED_AT_AFTER = timedelta(minutes=100)
FAIR = {"wet": False, "wind": 4, "sky": "partly-cloudy", "rain_probability": 10}


def visits_ahead(calendar: Calendar, now: datetime) -> Iterator[tuple[Visit, str]]:
    """Each visit that the story has ahead, in fair weather, with how far it has come."""
    local = now.astimezone(calendar.zone)
    for place, row in enumerate(calendar.story.get("ahead", [])):
        day = working_day(local.date(), int(row["in_days"]))
        index = calendar.count + place
        visit = calendar.visit(index, day, place, kind=row["job"], site=row.get("site", ""))
        starts_at = datetime.combine(day, time.fromisoformat(row["at"]), calendar.zone)
        if row["state"] == "sprayed":
            starts_at = round_to_minutes(local - LOOKED_AT_AFTER, 5)
        crew = {"applicator": row["crew"], "rig": rig_of(calendar, row["crew"], visit)}
        weather = replace(visit.weather, **FAIR)
        yield replace(visit, starts_at=starts_at, weather=weather, **crew), row["state"]


def working_day(today: date, count: int) -> date:
    """Today, or the so manieth day after it that is no Saturday or Sunday."""
    day = today
    for _ in range(count):
        day += timedelta(days=1)
        while day.weekday() > 4:
            day += timedelta(days=1)
    return day


def rig_of(calendar: Calendar, person: str, visit: Visit) -> str:
    """The rig with which the person went out last."""
    own: list[dict[str, Any]] = [row for row in calendar.story["crews"] if row["applicator"] == person]
    return str(own[-1]["rig"]) if own else visit.rig


def round_to_minutes(moment: datetime, minutes: int) -> datetime:
    return moment.replace(minute=moment.minute // minutes * minutes, second=0, microsecond=0)
