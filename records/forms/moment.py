"""A day and a time at the site, kept with the site's offset."""

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, ClassVar
from zoneinfo import ZoneInfo

from django.utils import formats
from django.utils.translation import gettext as _

from records.forms.controls import Control, Typed
from records.forms.dates import year_sentence
from shared.times import TimeError, read_time

ZERO = timedelta()
_DAY_AND_TIME = re.compile(r"(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})")
_WRITTEN = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(?:\.\d+)?(?:Z|[+-]\d{2}:\d{2})")


@dataclass(frozen=True)
class Moment(Control):
    """A day and a time at the site; `zone` gives the offset, `day` is offered first, `now` at a touch.

    A time that the clocks show twice has its offset behind it, once somebody has said which is meant.
    """

    zone: str
    day: str = ""
    now: bool = False
    template: ClassVar[str] = "moment"
    parts: ClassVar[tuple[str, ...]] = ("d", "t")
    more: ClassVar[str] = "o"

    def shown(self, value: Any) -> Typed:
        if not value:
            return (self.day, "")
        try:
            moment = read_time(str(value)).astimezone(ZoneInfo(self.zone))
        except (TimeError, OverflowError):
            return self._as_written(str(value))
        typed = (moment.date().isoformat(), moment.strftime("%H:%M:%S" if moment.second else "%H:%M"))
        return self.completed(typed, moment.isoformat()[-6:])

    def _as_written(self, text: str) -> Typed:
        """Day and time of a text that no clock of the site can show."""
        if written := _DAY_AND_TIME.match(text):
            return (written[1], written[2])
        day, _space, time = text.partition(" ")
        return (day, time)

    def completed(self, typed: Typed, more: str) -> Typed:
        """With the offset, where it says which of two times is meant."""
        return (*typed, more) if more in self.which(typed) else typed

    def which(self, typed: Typed) -> tuple[str, ...]:
        """The offsets of a time that the clocks show twice, the first one first; else none."""
        try:
            written = datetime.fromisoformat(f"{typed[0].strip()}T{typed[1].strip()}")
        except ValueError:
            return ()
        zone = ZoneInfo(self.zone)
        first, second = (written.replace(tzinfo=zone, fold=fold) for fold in (0, 1))
        back = (first.utcoffset() or ZERO) > (second.utcoffset() or ZERO)
        return (first.isoformat()[-6:], second.isoformat()[-6:]) if back else ()

    def read(self, typed: Typed) -> Any:
        day, time = typed[0].strip(), typed[1].strip()
        if not time and day in ("", self.day):
            return None
        try:
            moment = datetime.fromisoformat(f"{day}T{time}").replace(tzinfo=ZoneInfo(self.zone))
        except ValueError:
            return f"{day} {time}"
        offsets = self.which(typed)
        if offsets and typed[2:] not in ((offset,) for offset in offsets):
            return f"{day} {time}"
        is_second = bool(offsets) and typed[2] == offsets[1]
        return moment.replace(fold=int(is_second)).isoformat(timespec="seconds")

    def spoken(self, sentence: str) -> str:
        """The sentence with its moments as day and time at the site."""
        return _WRITTEN.sub(lambda written: self._said(written[0]), sentence)

    def _said(self, written: str) -> str:
        day, time = self.shown(written)[:2]
        try:
            return f"{formats.date_format(date.fromisoformat(day), 'DATE_FORMAT')}, {time}"
        except ValueError:
            return written

    def sentence(self, typed: Typed) -> str:
        if sentence := year_sentence(typed[0]):
            return sentence
        if not isinstance(self.read(typed), str) or "T" in self.read(typed):
            return ""
        if not all(part.strip() for part in typed):
            return _("Enter both the day and the time.")
        if self.which(typed):
            return _("The clocks were put back and showed this time twice. Say which is meant.")
        return _("This is not a day and a time. For example: 14 September 2026, 09:12.")
