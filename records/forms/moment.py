"""A day and a time at the site, kept with the site's offset."""

import re
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, ClassVar
from zoneinfo import ZoneInfo

from django.utils import formats
from django.utils.translation import gettext as _

from records.forms.controls import Control, Typed
from shared.times import TimeError, read_time

_WRITTEN = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(?:\.\d+)?(?:Z|[+-]\d{2}:\d{2})")


@dataclass(frozen=True)
class Moment(Control):
    """A day and a time at the site; `zone` gives the offset, `day` is offered first, `now` at a touch."""

    zone: str
    day: str = ""
    now: bool = False
    template: ClassVar[str] = "moment"
    parts: ClassVar[tuple[str, ...]] = ("d", "t")

    def shown(self, value: Any) -> Typed:
        if not value:
            return (self.day, "")
        try:
            moment = read_time(str(value)).astimezone(ZoneInfo(self.zone))
        except TimeError:
            day, _space, time = str(value).partition(" ")
            return (day, time)
        return (moment.date().isoformat(), moment.strftime("%H:%M:%S" if moment.second else "%H:%M"))

    def read(self, typed: Typed) -> Any:
        day, time = typed[0].strip(), typed[1].strip()
        if not time and day in ("", self.day):
            return None
        try:
            moment = datetime.fromisoformat(f"{day}T{time}").replace(tzinfo=ZoneInfo(self.zone))
        except ValueError:
            return f"{day} {time}"
        return moment.isoformat(timespec="seconds")

    def spoken(self, sentence: str) -> str:
        """The sentence with its moments as day and time at the site."""
        return _WRITTEN.sub(lambda written: self._said(written[0]), sentence)

    def _said(self, written: str) -> str:
        day, time = self.shown(written)
        return f"{formats.date_format(date.fromisoformat(day), 'DATE_FORMAT')}, {time}"

    def sentence(self, typed: Typed) -> str:
        if not isinstance(self.read(typed), str) or "T" in self.read(typed):
            return ""
        if not all(part.strip() for part in typed):
            return _("Enter both the day and the time.")
        return _("This is not a day and a time. For example: 14 September 2026, 09:12.")
