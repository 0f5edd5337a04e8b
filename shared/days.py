"""Days counted from one to another, business days too: Monday to Friday but public holidays.

A count that leads past an end of the calendar (the years 1 and 9999) ends there.
The day from which a count runs does not count, the day on which it ends does: five business days after a
Monday is the next Monday, where no holiday lies between. Which days are holidays is handed in.
"""

from calendar import isleap, monthrange
from collections.abc import Callable
from datetime import date

IsHoliday = Callable[[date], bool]

_SATURDAY = 5
_FIRST, _LAST = date.min.toordinal(), date.max.toordinal()


def is_business_day(day: date, is_holiday: IsHoliday) -> bool:
    """Whether a day is neither on a weekend nor a holiday."""
    return day.weekday() < _SATURDAY and not is_holiday(day)


def days_after(day: date, count: int) -> date:
    """So many days later; earlier, if the count is below 0."""
    return date.fromordinal(min(max(day.toordinal() + count, _FIRST), _LAST))


def years_after(day: date, years: int) -> date:
    """The same day of a later year; for 29 February the first of March, which keeps a day more, not less."""
    year = day.year + years
    if year > date.max.year:
        return date.max
    leaps = (day.month, day.day) == (2, 29) and not isleap(year)
    return date(year, 3, 1) if leaps else day.replace(year=year)


def day_of_month(year: int, month: int, day: int) -> date:
    """A day of a month, or its last one where the month is shorter."""
    return date(year, month, min(day, monthrange(year, month)[1])) if year <= date.max.year else date.max


def business_days_after(day: date, count: int, is_holiday: IsHoliday) -> date:
    """The business day on which a count of business days from this day ends."""
    return _counted(day, count, 1, is_holiday)


def business_days_before(day: date, count: int, is_holiday: IsHoliday) -> date:
    """The last business day from which a count of business days ends on this day or earlier.

    From a Saturday one counts back as from the Friday before it: the Saturday itself is none of the days.
    """
    while count > 0 and not is_business_day(day, is_holiday) and day != date.min:
        day = days_after(day, -1)
    return _counted(day, count, -1, is_holiday)


def _counted(day: date, count: int, step: int, is_holiday: IsHoliday) -> date:
    end = date.max if step > 0 else date.min
    while count > 0 and day != end:
        day = days_after(day, step)
        count -= is_business_day(day, is_holiday)
    return day
