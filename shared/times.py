"""Moments as RFC 3339 writes them, days, and the day that a moment falls on at a place."""

import re
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from functools import cache
from zoneinfo import ZoneInfo, available_timezones

from shared.wording import Blanks, Catalogue, Wording, say

WORDINGS: Catalogue = {
    "time/no_offset": Wording(
        "expected a time with its offset from UTC, for example 2026-09-14T09:12:00-07:00, got {got}",
        "se esperaba una hora con su diferencia respecto de UTC, por ejemplo 2026-09-14T09:12:00-07:00, "
        "se recibió {got}",
    ),
    "time/not_a_time": Wording(
        "expected a time such as 2026-09-14T09:12:00-07:00, got {got}",
        "se esperaba una fecha y hora como 2026-09-14T09:12:00-07:00, se recibió {got}",
    ),
    "time/no_such_time": Wording("there is no such time: {got}", "no existe esa fecha y hora: {got}"),
    "time/not_a_day": Wording(
        "expected a day such as 2026-09-14, got {got}", "se esperaba un día como 2026-09-14, se recibió {got}"
    ),
    "time/no_such_day": Wording("there is no such day: {got}", "no existe ese día: {got}"),
    "time/no_such_zone": Wording(
        "unknown time zone {got}; expected a name such as America/Los_Angeles",
        "zona horaria desconocida {got}; se esperaba un nombre como America/Los_Angeles",
    ),
}

DAY_PATTERN = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
TIME_PATTERN = (
    rf"({DAY_PATTERN})[Tt]([0-9]{{2}}:[0-9]{{2}}:)([0-9]{{2}})(?:\.([0-9]+))?"
    r"([Zz]|[+-](?:[01][0-9]|2[0-3]):[0-5][0-9])"
)
"""How a time is written, RFC 3339 section 5.6: day, hour and minute, second, fraction, offset."""

_DAY, _TIME = re.compile(DAY_PATTERN), re.compile(TIME_PATTERN)
_TIME_WITHOUT_OFFSET = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}[Tt ][0-9]{2}:[0-9]{2}(:[0-9]{2}(\.[0-9]+)?)?")


class TimeError(ValueError):
    """A text that is no time, day or time zone; says why in every language."""

    def __init__(self, wording_id: str, got: str) -> None:
        super().__init__(wording_id)
        self.wording_id = wording_id
        self.blanks: Blanks = {"got": got if len(got) <= 60 else got[:60] + "…"}

    def __str__(self) -> str:
        return say(WORDINGS, self.wording_id, self.blanks, "en")


def read_time(text: str) -> datetime:
    """The moment that an RFC 3339 text names, with the offset as written.

    A leap second (`23:59:60` UTC) is read as the second after it; digits past the microsecond are dropped.
    Raises TimeError, also where the offset is missing.
    """
    match = _TIME.fullmatch(text)
    if not match:
        no_offset = _TIME_WITHOUT_OFFSET.fullmatch(text)
        raise TimeError("time/no_offset" if no_offset else "time/not_a_time", text)
    day, hour_and_minute, second, fraction, offset = match.groups()
    leap = second == "60"
    parts = f"{day}T{hour_and_minute}{'59' if leap else second}.{(fraction or '0')[:6]:0<6}{offset.upper()}"
    try:
        moment = datetime.fromisoformat(parts)
        in_utc = moment.astimezone(UTC)
    except (ValueError, OverflowError):
        raise TimeError("time/no_such_time", text) from None
    if not leap:
        return moment
    if (in_utc.hour, in_utc.minute) != (23, 59):
        raise TimeError("time/no_such_time", text)
    return moment + timedelta(seconds=1)


def read_day(text: str) -> date:
    """The day that a text such as 2026-09-14 names. Raises TimeError."""
    if not _DAY.fullmatch(text):
        raise TimeError("time/not_a_day", text)
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise TimeError("time/no_such_day", text) from None


@cache
def _zone_names() -> frozenset[str]:
    return frozenset(available_timezones())


def read_zone(name: str) -> ZoneInfo:
    """The IANA time zone of this name. Raises TimeError."""
    if name not in _zone_names():
        raise TimeError("time/no_such_zone", name)
    return ZoneInfo(name)


def local_day(moment: datetime, zone_name: str | None) -> date:
    """The day on which the moment falls in the zone; without a zone, in the moment's own offset.

    Raises TimeError for a zone that does not exist, ValueError for a moment without offset.
    """
    if moment.tzinfo is None:
        raise ValueError("a moment without offset has no day")
    return (moment.astimezone(read_zone(zone_name)) if zone_name else moment).date()


def said_offset(moment: datetime) -> str:
    """The offset of a moment from UTC, the same in every language: `UTC-7`, `UTC+5:30`, `UTC`."""
    offset = moment.utcoffset() or timedelta(0)
    hours, minutes = divmod(int(abs(offset).total_seconds()) // 60, 60)
    if not offset:
        return "UTC"
    return f"UTC{'-' if offset < timedelta(0) else '+'}{hours}{f':{minutes:02}' if minutes else ''}"


def changes_clock(day: date, zone: ZoneInfo) -> bool:
    """Whether the clocks of the zone are changed on this day, so that a time of day may come twice."""
    begins = datetime.combine(day, time.min, zone)
    ends = datetime.combine(day, time.max, zone)
    return begins.utcoffset() != ends.utcoffset()


def said_time(seconds: Fraction) -> str:
    """A length of time in hours, minutes and whole seconds, the empty ones left out: `26 h 13 min`.

    The symbols are the same in every language. A part of a second is dropped.
    """
    minutes, rest = divmod(int(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    parts = [f"{count} {unit}" for count, unit in ((hours, "h"), (minutes, "min"), (rest, "s")) if count]
    return " ".join(parts) or "0 min"
