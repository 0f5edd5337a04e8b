"""How pages say moments: in the zone of the place, and told apart where the clocks show a time twice."""

from datetime import UTC, datetime

import pytest

from records.templatetags.treatments import hour, moment, moment_and_offset

ZONE = "America/Los_Angeles"
"""Its clocks are put back on the first Sunday of November, 2:00 (15 U.S.C. 260a)."""


@pytest.mark.parametrize(
    ("at", "said"),
    [
        ("2026-11-01T08:50:00Z", "Nov. 1, 2026, 01:50 UTC-7"),
        ("2026-11-01T09:10:00Z", "Nov. 1, 2026, 01:10 UTC-8"),
        ("2026-11-02T09:10:00Z", "Nov. 2, 2026, 01:10"),
    ],
)
def test_a_time_that_the_clocks_show_twice_stands_with_its_offset(at: str, said: str):
    assert moment(at, ZONE) == said
    assert hour(datetime.fromisoformat(at), ZONE) == said.partition(", 2026, ")[2]


def test_a_moment_that_is_read_elsewhere_stands_with_its_offset_on_any_day():
    at = datetime(2026, 3, 12, 18, 44, tzinfo=UTC)
    assert moment_and_offset(at, ZONE) == "March 12, 2026, 11:44 UTC-7"
    assert moment_and_offset(None, ZONE) == ""
    assert moment_and_offset("yesterday", ZONE) == "yesterday"
