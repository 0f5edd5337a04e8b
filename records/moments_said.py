"""How pages say moments: in the zone of the place, with the offset where a time of day could be another."""

from contextlib import suppress
from datetime import datetime
from zoneinfo import ZoneInfo

from django.utils import formats

from shared.times import TimeError, changes_clock, read_time, said_offset


def said_moment(value: str | datetime | None, zone: str | None, always: bool = False) -> str:
    """Day and time as written, or in `zone` where its calendar goes so far. The offset from UTC stands with it
    `always`, or on a day on which the clocks of the zone are changed. A text that is no time stays."""
    if not value:
        return ""
    if isinstance(value, str):
        try:
            value = read_time(value)
        except TimeError:
            return value
    if zone:
        with suppress(OverflowError):
            value = value.astimezone(ZoneInfo(zone))
    said = f"{formats.date_format(value, 'DATE_FORMAT')}, {value:%H:%M}"
    return f"{said} {said_offset(value)}" if always or _may_come_twice(value, zone) else said


def said_hour(value: datetime, zone: str) -> str:
    """The time of day in `zone`, with its offset on a day on which the clocks are changed."""
    at = value.astimezone(ZoneInfo(zone))
    return f"{at:%H:%M} {said_offset(at)}" if _may_come_twice(at, zone) else f"{at:%H:%M}"


def _may_come_twice(at: datetime, zone: str | None) -> bool:
    return bool(zone) and changes_clock(at.date(), ZoneInfo(zone or ""))
