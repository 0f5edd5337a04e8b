"""The kinds of member that hold a time, a day or a time zone, as text."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from records.document.kind import JsonSchema, Kind, text_of
from shared import times


class _Kept(Kind):
    """Text that one of `shared.times` can read, kept as written."""

    reads: ClassVar[Callable[[str], object]]

    def read(self, value: object) -> str:
        text = text_of(value)
        type(self).reads(text)
        return text


@dataclass(frozen=True)
class Time(_Kept):
    """An RFC 3339 time with offset, kept as written."""

    name: ClassVar[str] = "time"
    reads = times.read_time

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "format": "date-time", "pattern": f"^{times.TIME_PATTERN}$"}


@dataclass(frozen=True)
class Day(_Kept):
    """A day, such as 2026-09-14."""

    name: ClassVar[str] = "day"
    reads = times.read_day

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "format": "date", "pattern": f"^{times.DAY_PATTERN}$"}


@dataclass(frozen=True)
class Zone(_Kept):
    """The name of an IANA time zone."""

    name: ClassVar[str] = "zone"
    reads = times.read_zone

    def json_schema(self) -> JsonSchema:
        return {"type": "string"}
