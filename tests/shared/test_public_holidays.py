"""Public holidays against the laws that make them."""

from datetime import date

import pytest

from shared.public_holidays import CALENDARS, is_holiday

FEDERAL_2026 = [
    "2026-01-01",  # New Year's Day
    "2026-01-19",  # Birthday of Martin Luther King, Jr., the third Monday in January
    "2026-02-16",  # Washington's Birthday, the third Monday in February
    "2026-05-25",  # Memorial Day, the last Monday in May
    "2026-06-19",  # Juneteenth National Independence Day
    "2026-07-03",  # Independence Day, a Saturday: observed on the Friday, 6103(b)(1)
    "2026-07-04",
    "2026-09-07",  # Labor Day, the first Monday in September
    "2026-10-12",  # Columbus Day, the second Monday in October
    "2026-11-11",  # Veterans Day
    "2026-11-26",  # Thanksgiving Day, the fourth Thursday in November
    "2026-12-25",  # Christmas Day
]
"""5 U.S.C. 6103(a), its days in 2026 counted by hand."""


def test_the_federal_holidays_are_those_of_5_usc_6103():
    days = [date.fromordinal(date(2026, 1, 1).toordinal() + n) for n in range(365)]
    assert [day.isoformat() for day in days if is_holiday("us", day)] == FEDERAL_2026


def test_a_new_year_that_falls_on_a_saturday_is_observed_in_the_old_year():
    """5 U.S.C. 6103(b)(1): 1 January 2022 was a Saturday."""
    assert is_holiday("us", date(2021, 12, 31))


def test_a_holiday_of_one_place_is_none_of_another():
    """Public Holidays Act 2010 (NSW), section 4: Anzac Day, 25 April; the Monarch's birthday, second Monday
    in June. From memory."""
    assert is_holiday("au-nsw", date(2026, 4, 25)) and not is_holiday("us", date(2026, 4, 25))
    assert is_holiday("au-nsw", date(2026, 6, 8)) and not is_holiday("gb-eng", date(2026, 6, 8))


@pytest.mark.parametrize("calendar", CALENDARS)
def test_every_calendar_knows_new_years_day(calendar: str):
    assert is_holiday(calendar, date(2026, 1, 1)) and not is_holiday(calendar, date(2026, 1, 14))


def test_a_calendar_that_is_not_in_the_table_is_refused():
    with pytest.raises(KeyError):
        is_holiday("xx", date(2026, 1, 1))
