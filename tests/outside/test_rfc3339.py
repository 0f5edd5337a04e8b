"""Times as RFC 3339 writes them: the examples of its section 5.8."""

from datetime import UTC, datetime, timedelta

import pytest

from shared.times import read_time


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("1985-04-12T23:20:50.52Z", datetime(1985, 4, 12, 23, 20, 50, 520000, UTC)),
        ("1996-12-19T16:39:57-08:00", datetime(1996, 12, 20, 0, 39, 57, 0, UTC)),
        ("1990-12-31T23:59:60Z", datetime(1991, 1, 1, tzinfo=UTC)),
        ("1990-12-31T15:59:60-08:00", datetime(1991, 1, 1, tzinfo=UTC)),
        ("1937-01-01T12:00:27.87+00:20", datetime(1937, 1, 1, 11, 40, 27, 870000, UTC)),
    ],
)
def test_the_standards_examples_are_read_as_the_moments_that_it_says(text, moment):
    assert read_time(text) == moment


def test_the_offset_is_kept_as_written():
    assert read_time("1996-12-19T16:39:57-08:00").utcoffset() == timedelta(hours=-8)
