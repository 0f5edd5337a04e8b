"""Weeks and months between days."""

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from records.register.steps import start_of, starts, step_for

DAYS = st.lists(st.dates(date(2000, 1, 1), date(2030, 1, 1)), min_size=1, max_size=5)


def test_a_week_begins_on_its_monday_also_over_the_turn_of_a_year():
    """1 January 2026 was a Thursday (ISO 8601 calendar, from memory)."""
    assert start_of(date(2026, 1, 1), "week") == date(2025, 12, 29)
    assert start_of(date(2025, 12, 29), "week") == date(2025, 12, 29)
    assert start_of(date(2024, 2, 29), "month") == date(2024, 2, 1)


def test_weeks_and_months_without_any_stand_there_too():
    days = [date(2026, 9, 30), date(2026, 9, 14)]
    assert starts(days, "week") == [date(2026, 9, 14), date(2026, 9, 21), date(2026, 9, 28)]
    days = [date(2025, 12, 31), date(2026, 3, 1)]
    assert starts(days, "month") == [date(2025, 12, 1), date(2026, 1, 1), date(2026, 2, 1), date(2026, 3, 1)]
    assert starts([], "week") == []


def test_beyond_two_years_of_weeks_there_are_months():
    assert step_for([date(2024, 1, 1), date(2025, 12, 29)]) == "week"
    assert step_for([date(2024, 1, 1), date(2025, 12, 30)]) == "month"
    assert step_for([]) == "week"


@given(DAYS, st.sampled_from(["week", "month"]))
def test_every_day_falls_into_a_step_that_is_there(days, step):
    found = starts(days, step)
    assert {start_of(day, step) for day in days} <= set(found)
    assert found == sorted(set(found))
