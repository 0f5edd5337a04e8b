"""The kinds of member that hold a time, a day or a time zone, as text.

Times and days are of the years 1900 to 2199: a year outside of them is a slip of the pen, and counting from
a day within them stays within the calendar.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from records.document.kind import JsonSchema, Kind, MisreadError, text_of
from shared import times

YEARS = range(1900, 2200)
_YEAR = re.compile(r"[0-9]{4}-")
_YEARS_PATTERN = "(?=19|20|21)"


class _Kept(Kind):
    """Text that one of `shared.times` can read, kept as written."""

    reads: ClassVar[Callable[[str], object]]

    def read(self, value: object) -> str:
        text = text_of(value)
        type(self).reads(text)
        return text


class _Dated(_Kept):
    """Text that begins with a year."""

    def read(self, value: object) -> str:
        text = text_of(value)
        if _YEAR.match(text) and int(text[:4]) not in YEARS:
            blanks = {"first": str(YEARS.start), "last": str(YEARS.stop - 1), "got": text}
            raise MisreadError("document/year_out_of_range", blanks)
        return super().read(text)


@dataclass(frozen=True)
class Time(_Dated):
    """An RFC 3339 time with offset, kept as written."""

    name: ClassVar[str] = "time"
    reads = times.read_time

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "format": "date-time", "pattern": f"^{_YEARS_PATTERN}{times.TIME_PATTERN}$"}


@dataclass(frozen=True)
class Day(_Dated):
    """A day, such as 2026-09-14."""

    name: ClassVar[str] = "day"
    reads = times.read_day

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "format": "date", "pattern": f"^{_YEARS_PATTERN}{times.DAY_PATTERN}$"}


@dataclass(frozen=True)
class Zone(_Kept):
    """The name of an IANA time zone."""

    name: ClassVar[str] = "zone"
    reads = times.read_zone

    def json_schema(self) -> JsonSchema:
        return {"type": "string"}
