"""Lengths of time as laws count them: hours from moment to moment, days as whole local days."""

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import partial
from typing import Protocol

from compliance.rulebook.errors import RuleError
from compliance.rulebook.reading import Params, as_text, one_of, quantity
from shared.days import IsHoliday, business_days_after, business_days_before, days_after
from shared.quantities import Quantity
from shared.wording import Wording

SAME_DAY = "same day"
_BUSINESS_DAYS = re.compile(r"([1-9][0-9]{0,2}) business days?")
_MOST_DAYS = 3660
_FIRST, _LAST = time(0, 0, 0), time(23, 59, 59)


class OnSite(Protocol):
    """The clock and the public holidays by which a time is counted, as the facts of a site have them."""

    def local(self, moment: datetime) -> datetime: ...

    def is_holiday(self, calendar: str, day: date) -> bool: ...


@dataclass(frozen=True)
class Duration:
    """Hours or minutes (`hours`), or a count of local days; with a `calendar` these are business days."""

    hours: Quantity | None = None
    days: int = 0
    calendar: str | None = None

    def after(self, moment: datetime, facts: OnSite) -> datetime:
        """The moment at which it ends, on the site's clock; days run to the end of the last one."""
        if self.hours:
            return _moved(moment, _span(self.hours), facts)
        return self.end_after(facts.local(moment).date(), facts)

    def before(self, moment: datetime, facts: OnSite, *, earliest: bool = False) -> datetime:
        """The moment so long before: for days the end of that local day, or (`earliest`) its start."""
        if self.hours:
            return _moved(moment, -_span(self.hours), facts)
        day = facts.local(moment).date()
        if self.calendar:
            day = business_days_before(day, self.days, self._holidays(facts))
        else:
            day = days_after(day, -self.days)
        return facts.local(datetime.combine(day, _FIRST if earliest else _LAST))

    def end_after(self, day: date, facts: OnSite) -> datetime:
        """The end of the last of the days that follow a day."""
        return facts.local(datetime.combine(self.day_after(day, facts), _LAST))

    def day_after(self, day: date, facts: OnSite) -> date:
        """The last of the days that follow a day."""
        if self.calendar:
            return business_days_after(day, self.days, self._holidays(facts))
        return days_after(day, self.days)

    def say(self, language: str) -> str:
        """`48 h`, `3 days`, `5 business days`."""
        if self.hours:
            return self.hours.say(language)
        if not self.calendar:
            return Quantity(str(self.days), "day").say(language)
        one = self.days == 1
        if language == "en":
            return f"{self.days} business day{'' if one else 's'}"
        return f"{self.days} día{'' if one else 's'} {'hábil' if one else 'hábiles'}"

    def _holidays(self, facts: OnSite) -> IsHoliday:
        return partial(facts.is_holiday, self.calendar or "")


def read_duration(params: Params, raw: object) -> Duration:
    """`48 hour`, `30 day`, `5 business day` (with `holidays` beside it) or `same day`. Raises RuleError."""
    text = as_text(raw)
    if text == SAME_DAY:
        return Duration()
    counted = _BUSINESS_DAYS.fullmatch(text)
    if counted:
        calendar = params.value("holidays", one_of(params.setting.vocabulary.calendars))
        return Duration(days=int(counted[1]), calendar=calendar)
    length = quantity("time")(text)
    whole_days = length.unit != "day" or length.exact.denominator == 1
    if not whole_days or length.to("day") > _MOST_DAYS:
        blanks = {"got": text, "example": "same day, 72 hour, 30 day, 5 business day"}
        raise RuleError("rule/bad_duration", blanks)
    return Duration(days=int(length.exact)) if length.unit == "day" else Duration(hours=length)


def said_moment(moment: datetime) -> str:
    """A moment on the site's clock, to the minute: `2026-09-14 09:12`."""
    return moment.isoformat(" ")[: len("2026-09-14 09:12")]


def said_language(code: str) -> Wording:
    """A language by its name, else by its code."""
    return _LANGUAGES.get(code, Wording(code, code))


_LANGUAGES = {
    "en": Wording("English", "inglés"),
    "es": Wording("Spanish", "español"),
    "fr": Wording("French", "francés"),
}


def _moved(moment: datetime, by: timedelta, facts: OnSite) -> datetime:
    """Hours pass as they do in UTC; past an end of the calendar, that end."""
    try:
        return facts.local(moment.astimezone(UTC) + by)
    except OverflowError:
        last = datetime.combine(date.max, _LAST)
        return facts.local(last if by > timedelta(0) else datetime.combine(date.min, _FIRST))


def _span(length: Quantity) -> timedelta:
    return timedelta(microseconds=int(length.to("min") * 60_000_000))
