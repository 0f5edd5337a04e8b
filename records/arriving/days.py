"""Days and times as people type them. `03/04/2025` is two days: which, somebody has to say."""

import re
from datetime import date, time

from records.imports.faults import FileError, refused

EARLIEST, LATEST = 1950, 2100
"""Years in which a day of a firm's records may lie."""
ORDERS = ("mdy", "dmy")
_ISO = re.compile(r"(\d{4})[-./](\d{1,2})[-./](\d{1,2})(?:[T ](\d{1,2}:\d{2}(?::\d{2})?).*)?")
_NUMBERS = re.compile(r"(\d{1,2})[-./ ](\d{1,2})[-./ ](\d{2}|\d{4})(?: +(\d{1,2}:\d{2}.*))?")
_NAMED = re.compile(
    r"(?:[a-z]{3,9}\.?,? )?"
    r"(?:(\d{1,2})(?:st|nd|rd|th)?[ -](?:de )?([a-z]{3,10})\.?|([a-z]{3,10})\.? (\d{1,2})(?:st|nd|rd|th)?)"
    r",?[ -](?:de )?(\d{2}|\d{4})"
)
_MONTHS = {
    "jan": 1, "ene": 1, "feb": 2, "mar": 3, "apr": 4, "abr": 4, "may": 5, "jun": 6, "jul": 7, "aug": 8,
    "ago": 8, "sep": 9, "set": 9, "oct": 10, "nov": 11, "dec": 12, "dic": 12,
}  # fmt: skip
_CLOCK = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?(?::\d{2})?\s*([ap])?\.?\s?m?\.?", re.IGNORECASE)
_FOUR = re.compile(r"(\d{2})(\d{2})")
_SPAN = re.compile(r"\s*(?:-|–|—|\bto\b|\ba\b)\s*")


def two_ways(text: str) -> bool:
    """Whether day and month could be exchanged."""
    matched = _NUMBERS.fullmatch(text)
    return bool(matched) and matched[1] != matched[2] and int(matched[1]) <= 12 and int(matched[2]) <= 12  # type: ignore[index]


def order_of(text: str) -> str:
    """The order that this day tells by itself, `""` where it tells none, or does not exist."""
    if _NUMBERS.fullmatch(text) is None:
        return ""
    orders = [order for order in ORDERS if _is_day(text, order)]
    return orders[0] if len(orders) == 1 else ""


def read_day(text: str, order: str) -> date:
    """Raises FileError."""
    if matched := _ISO.fullmatch(text):
        return _day(int(matched[1]), int(matched[2]), int(matched[3]))
    if matched := _NUMBERS.fullmatch(text):
        first, second, year = int(matched[1]), int(matched[2]), matched[3]
        month, day = (second, first) if order == "dmy" else (first, second)
        return _day(_year(year), month, day)
    if matched := _NAMED.fullmatch(text.casefold()):
        month = _MONTHS.get((matched[2] or matched[3])[:3], 0)
        if month:
            return _day(_year(matched[5]), month, int(matched[1] or matched[4]))
    raise refused("no_day")


def _is_day(text: str, order: str) -> bool:
    try:
        return bool(read_day(text, order))
    except FileError:
        return False


def time_in(text: str) -> str:
    """The time that stands behind a day in one cell, `""` where none does."""
    for pattern, place in ((_ISO, 4), (_NUMBERS, 4)):
        if matched := pattern.fullmatch(text):
            return matched[place] or ""
    return ""


def read_time(text: str) -> time:
    """Raises FileError."""
    if matched := _FOUR.fullmatch(text):
        return _time(int(matched[1]), int(matched[2]), "")
    matched = _CLOCK.fullmatch(text.strip())
    if matched is None or not (matched[2] or matched[3]):
        raise refused("no_time")
    return _time(int(matched[1]), int(matched[2] or 0), (matched[3] or "").casefold())


def read_times(text: str) -> list[time]:
    """One time, or a start and a finish in one cell: `9:15-9:50`. `9-11:30 am` gives its half to both."""
    parts = _SPAN.split(text.strip())
    if len(parts) != 2:
        return [read_time(text)]
    halves = re.findall(r"[ap]\.?\s?m", text.casefold())
    if len(halves) == 1 and not re.search(r"[ap]\.?\s?m", parts[0].casefold()):
        parts[0] += halves[0][0] + "m"
    return [read_time(part) for part in parts]


def _time(hour: int, minute: int, half: str) -> time:
    if half:
        if not 1 <= hour <= 12:
            raise refused("no_time")
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour > 23 or minute > 59:
        raise refused("no_time")
    return time(hour, minute)


def _year(text: str) -> int:
    year = int(text)
    return year if len(text) == 4 else year + (2000 if year < 70 else 1900)


def _day(year: int, month: int, day: int) -> date:
    if not EARLIEST <= year <= LATEST:
        raise refused("no_such_day")
    try:
        return date(year, month, day)
    except ValueError as error:
        raise refused("no_such_day") from error
