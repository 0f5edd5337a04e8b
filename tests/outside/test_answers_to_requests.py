"""By when a request for records is answered, set against the texts of the laws."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from compliance.pack_reader import registered_packs
from compliance.rulebook.answer_times import AnswerTime

SEATTLE = ZoneInfo("America/Los_Angeles")


def time_for(place: str, cite: str, asker: str) -> AnswerTime:
    (pack,) = [pack for pack in registered_packs() if pack.id == place]
    (found,) = [
        time for one in pack.reminders if one.cite == cite for time in one.answered if asker in time.by
    ]
    return found


def test_a_medical_call_at_22_00_is_answered_at_once_and_the_copy_is_there_by_22_00() -> None:
    """RCW 17.21.100(4)(b): treating health personnel at once, by telephone if asked, the copy in 24 hours."""
    time = time_for("us-wa", "RCW 17.21.100(4)(a), (b)", "medical")
    assert time.at_once
    called = datetime(2026, 9, 14, 22, 0, tzinfo=SEATTLE)
    assert time.due(called) == datetime(2026, 9, 15, 22, 0, tzinfo=SEATTLE)


@pytest.mark.parametrize("asker", ["regulator", "worker"])
def test_others_whom_washington_names_get_their_copy_within_72_hours(asker: str) -> None:
    """RCW 17.21.100(4)(b): 72 hours, weekends and holidays counted; the letter of Friday is due on Monday."""
    time = time_for("us-wa", "RCW 17.21.100(4)(a), (b)", asker)
    friday = datetime(2026, 9, 11, 16, 30, tzinfo=SEATTLE)
    assert (time.at_once, time.due(friday)) == (False, datetime(2026, 9, 14, 16, 30, tzinfo=SEATTLE))


def test_hours_pass_as_they_do_and_not_as_the_clocks_show_them() -> None:
    """RCW 17.21.100(4)(b) over the end of daylight saving time on 1 November 2026 (15 U.S.C. 260a)."""
    time = time_for("us-wa", "RCW 17.21.100(4)(a), (b)", "medical")
    called = datetime(2026, 10, 31, 22, 0, tzinfo=SEATTLE)
    due = time.due(called)
    assert due.astimezone(UTC) - called.astimezone(UTC) == timedelta(hours=24)
    assert due.strftime("%d %H:%M") == "01 21:00"


def test_maryland_and_new_jersey_are_answered_at_once() -> None:
    """COMAR 15.05.01.12; N.J.A.C. 7:30-8.8(d), whose parallel for businesses is from memory."""
    asked = datetime(2026, 9, 14, 9, 0, tzinfo=ZoneInfo("America/New_York"))
    for place, cite in (("us-md", "COMAR 15.05.01.12"), ("us-nj", "N.J.A.C. 7:30-8.8(d)")):
        time = time_for(place, cite, "regulator")
        assert (time.at_once, time.due(asked)) == (True, asked)
