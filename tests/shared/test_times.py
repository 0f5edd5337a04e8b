from datetime import UTC, date, datetime, timedelta, timezone
from fractions import Fraction

import pytest

from shared.times import (
    WORDINGS,
    TimeError,
    changes_clock,
    local_day,
    read_day,
    read_time,
    read_zone,
    said_offset,
    said_time,
)
from shared.wording import LANGUAGES


def said(reading, text: str) -> str:
    with pytest.raises(TimeError) as error:
        reading(text)
    return str(error.value)


@pytest.mark.parametrize(
    "text", ["2026-09-14T09:12:00", "2026-09-14T09:12", "2026-09-14 09:12:00", "2026-09-14T09:12:00.5"]
)
def test_a_time_without_its_offset_is_refused_with_the_offset_named(text):
    assert said(read_time, text).startswith("expected a time with its offset from UTC")


@pytest.mark.parametrize(
    "text",
    [
        "", "2026-09-14", "09:12", "2026-09-14 09:12:00Z", "2026-09-14T09:12Z", "2026-09-14T09:12:00+7",
        "2026-09-14T09:12:00-0700", "2026-09-14T09:12:00+24:00", "2026-9-14T09:12:00Z",
        "２026-09-14T09:12:00Z",
        "2026-09-14T09:12:00Z\n", "20260914T091200Z", "2026-09-14T09:12:00,5Z",
    ],
)  # fmt: skip
def test_what_is_not_written_as_a_time_is_refused(text):
    assert said(read_time, text).startswith("expected a time such as")


@pytest.mark.parametrize(
    "text",
    [
        "2026-02-30T09:12:00Z", "2026-13-01T09:12:00Z", "2026-09-14T24:00:00Z", "2026-09-14T09:60:00Z",
        "2026-09-14T09:12:61Z", "2026-09-14T09:12:60Z", "0000-01-01T00:00:00Z", "0001-01-01T00:00:00+01:00",
    ],
)  # fmt: skip
def test_a_time_that_does_not_exist_is_refused(text):
    assert said(read_time, text) == f"there is no such time: {text}"


def test_letters_may_be_small_and_digits_past_the_microsecond_are_dropped():
    assert read_time("2026-09-14t09:12:00.1234567z") == datetime(2026, 9, 14, 9, 12, 0, 123456, UTC)


def test_a_day_is_read_and_a_day_that_does_not_exist_is_refused():
    assert read_day("2028-02-29") == date(2028, 2, 29)
    assert said(read_day, "2026-02-29") == "there is no such day: 2026-02-29"
    assert said(read_day, "14.9.2026").startswith("expected a day such as")


def test_a_time_zone_goes_by_its_name():
    assert read_zone("Europe/Berlin").key == "Europe/Berlin"
    assert said(read_zone, "PST").startswith("unknown time zone PST")
    assert said(read_zone, "../etc/passwd").startswith("unknown time zone")


def test_the_day_is_the_sites_day_not_utcs_nor_the_phones():
    late = read_time("2026-09-15T06:30:00Z")
    assert local_day(late, "America/Los_Angeles") == date(2026, 9, 14)
    assert local_day(late, None) == date(2026, 9, 15)
    assert local_day(late.astimezone(timezone(timedelta(hours=-7))), None) == date(2026, 9, 14)


def test_the_day_is_right_in_the_hour_that_comes_twice():
    assert local_day(read_time("2026-11-01T07:30:00Z"), "America/Los_Angeles") == date(2026, 11, 1)
    assert local_day(read_time("2026-11-01T06:59:59Z"), "America/Los_Angeles") == date(2026, 10, 31)


def test_a_moment_without_offset_has_no_day():
    with pytest.raises(ValueError, match="without offset"):
        local_day(datetime(2026, 9, 14), None)  # noqa: DTZ001


def test_a_long_text_is_quoted_only_in_part():
    assert len(said(read_time, "x" * 10_000)) < 200


def test_each_sentence_has_the_same_blanks_in_both_languages():
    for wording in WORDINGS.values():
        assert len({wording.blank_names(language) for language in LANGUAGES}) == 1


@pytest.mark.parametrize(
    ("seconds", "said_as"),
    [(94380, "26 h 13 min"), (14399, "3 h 59 min 59 s"), (3600, "1 h"), (59, "59 s"), (0, "0 min")],
)
def test_a_length_of_time_is_said_in_hours_and_minutes(seconds: int, said_as: str):
    assert said_time(Fraction(seconds)) == said_as


def test_a_part_of_a_second_is_dropped():
    assert said_time(Fraction(119999, 1000)) == "1 min 59 s"


@pytest.mark.parametrize(
    ("offset", "said_as"),
    [
        (timedelta(hours=-7), "UTC-7"),
        (timedelta(hours=5, minutes=30), "UTC+5:30"),
        (timedelta(hours=-3, minutes=-30), "UTC-3:30"),
        (timedelta(0), "UTC"),
    ],
)
def test_an_offset_is_said_in_hours_and_minutes(offset: timedelta, said_as: str):
    assert said_offset(datetime(2026, 9, 14, 9, 12, tzinfo=timezone(offset))) == said_as


@pytest.mark.parametrize(
    ("day", "changes"),
    [("2026-03-07", False), ("2026-03-08", True), ("2026-11-01", True), ("2026-11-02", False)],
)
def test_a_day_on_which_the_clocks_are_changed_is_told(day: str, changes: bool):
    """In the United States the second Sunday of March and the first of November (15 U.S.C. 260a)."""
    assert changes_clock(date.fromisoformat(day), read_zone("America/Los_Angeles")) is changes
