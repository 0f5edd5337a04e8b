"""Business days: Monday to Friday but public holidays, counted from one day to another.

The day from which a count runs does not count, the day on which it ends does: five business days after a
Monday is the next Monday, where no holiday lies between. Which days are holidays is handed in.
"""

from collections.abc import Callable
from datetime import date, timedelta

IsHoliday = Callable[[date], bool]

_DAY = timedelta(days=1)
_SATURDAY = 5


def is_business_day(day: date, is_holiday: IsHoliday) -> bool:
    """Whether a day is neither on a weekend nor a holiday."""
    return day.weekday() < _SATURDAY and not is_holiday(day)


def business_days_after(day: date, count: int, is_holiday: IsHoliday) -> date:
    """The business day on which a count of business days from this day ends.

    Raises OverflowError past the last day of the calendar.
    """
    return _counted(day, count, _DAY, is_holiday)


def business_days_before(day: date, count: int, is_holiday: IsHoliday) -> date:
    """The last business day from which a count of business days ends on this day or earlier.

    Raises OverflowError before the first day of the calendar.
    """
    return _counted(day, count, -_DAY, is_holiday)


def _counted(day: date, count: int, step: timedelta, is_holiday: IsHoliday) -> date:
    while count > 0:
        day += step
        count -= is_business_day(day, is_holiday)
    return day
