"""Business days on calendars counted by hand."""

from datetime import date

import pytest

from shared.days import business_days_after, business_days_before, is_business_day


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


def test_no_days_lead_nowhere():
    assert business_days_after(date(2026, 9, 12), 0, none) == date(2026, 9, 12)


def test_a_count_past_the_last_day_of_the_calendar_is_refused():
    with pytest.raises(OverflowError):
        business_days_after(date.max, 1, none)
