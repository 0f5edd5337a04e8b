"""Business days on calendars counted by hand."""

from datetime import date

import pytest

from shared.days import (
    business_days_after,
    business_days_before,
    day_of_month,
    days_after,
    is_business_day,
    years_after,
)


def none(day: date) -> bool:
    return False


def test_a_weekend_has_no_business_day():
    assert [is_business_day(date(2026, 9, 7 + n), none) for n in range(7)] == [True] * 5 + [False] * 2


def test_five_business_days_after_a_monday_is_the_next_monday():
    assert business_days_after(date(2026, 9, 14), 5, none) == date(2026, 9, 21)
    assert business_days_before(date(2026, 9, 21), 5, none) == date(2026, 9, 14)


@pytest.mark.parametrize("told", [date(2026, 9, 11), date(2026, 9, 12), date(2026, 9, 13)])
def test_friday_and_the_weekend_after_it_count_alike(told: date):
    assert business_days_after(told, 1, none) == date(2026, 9, 14)


def test_a_holiday_is_passed_over():
    """Labor Day, the first Monday of September (5 U.S.C. 6103(a)), is 7 September in 2026. By hand: from
    Tuesday the 8th back over Monday (holiday), Sunday and Saturday to Friday the 4th."""

    def labor_day(day: date) -> bool:
        return day == date(2026, 9, 7)

    assert business_days_before(date(2026, 9, 8), 1, labor_day) == date(2026, 9, 4)
    assert business_days_after(date(2026, 9, 4), 2, labor_day) == date(2026, 9, 9)


@pytest.mark.parametrize("start", [date(2026, 9, 18), date(2026, 9, 19), date(2026, 9, 20)])
def test_a_count_back_from_a_weekend_is_that_from_the_friday_before(start: date):
    """By hand: from Friday the 11th the five business days are Monday the 14th to Friday the 18th; from Monday
    the 14th the fifth would be the Monday after the weekend."""
    assert business_days_before(start, 5, none) == date(2026, 9, 11)


def test_whoever_is_told_on_the_last_day_in_time_has_had_all_the_days_by_the_start():
    """Counting back is the other side of counting on, for starts on any day and around a holiday."""
    week = [date(2026, 9, 1 + n) for n in range(25)]

    def labor_day(day: date) -> bool:
        return day == date(2026, 9, 7)

    for start in week:
        for count in (1, 2, 5):
            latest = business_days_before(start, count, labor_day)
            working = [told for told in week if is_business_day(told, labor_day)]
            in_time = [told for told in working if business_days_after(told, count, labor_day) <= start]
            assert not in_time or in_time[-1] == latest


def test_no_days_lead_nowhere():
    assert business_days_after(date(2026, 9, 12), 0, none) == date(2026, 9, 12)


def test_a_count_past_an_end_of_the_calendar_ends_there():
    assert business_days_after(date(9999, 12, 30), 5, none) == days_after(date.max, 3) == date.max
    assert business_days_before(date(1, 1, 3), 5, none) == days_after(date.min, -3) == date.min
    assert years_after(date(9999, 1, 1), 7) == day_of_month(10000, 1, 31) == date.max


def test_a_leap_day_comes_back_as_the_first_of_march_but_in_leap_years():
    assert years_after(date(2024, 2, 29), 7) == date(2031, 3, 1)
    assert years_after(date(2024, 2, 29), 4) == date(2028, 2, 29)


def test_a_short_month_ends_before_its_thirty_first():
    assert day_of_month(2026, 2, 31) == date(2026, 2, 28)
