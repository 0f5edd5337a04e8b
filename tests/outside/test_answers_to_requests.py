"""By when a request for records is answered, set against the texts of the laws."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from compliance.pack_reader import registered_packs
from compliance.rulebook.answer_times import AnswerTime
from compliance.services.requests import ClockOf
from records.models import Firm
from tests.compliance.rulebook.test_answer_times import said

SEATTLE = ZoneInfo("America/Los_Angeles")
AT = ClockOf(Firm(time_zone="America/Los_Angeles"))
NEW_YORK = ClockOf(Firm(time_zone="America/New_York"))


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
    assert time.due(called, AT) == datetime(2026, 9, 15, 22, 0, tzinfo=SEATTLE)


@pytest.mark.parametrize("asker", ["regulator", "worker"])
def test_others_whom_washington_names_get_their_copy_within_72_hours(asker: str) -> None:
    """RCW 17.21.100(4)(b): 72 hours, weekends and holidays counted; the letter of Friday is due on Monday."""
    time = time_for("us-wa", "RCW 17.21.100(4)(a), (b)", asker)
    friday = datetime(2026, 9, 11, 16, 30, tzinfo=SEATTLE)
    assert (time.at_once, time.due(friday, AT)) == (False, datetime(2026, 9, 14, 16, 30, tzinfo=SEATTLE))


def test_hours_pass_as_they_do_and_not_as_the_clocks_show_them() -> None:
    """RCW 17.21.100(4)(b) over the end of daylight saving time on 1 November 2026 (15 U.S.C. 260a)."""
    time = time_for("us-wa", "RCW 17.21.100(4)(a), (b)", "medical")
    called = datetime(2026, 10, 31, 22, 0, tzinfo=SEATTLE)
    due = time.due(called, AT)
    assert due.astimezone(UTC) - called.astimezone(UTC) == timedelta(hours=24)
    assert due.strftime("%d %H:%M") == "01 21:00"


def test_maryland_and_new_jersey_are_answered_at_once() -> None:
    """COMAR 15.05.01.12; N.J.A.C. 7:30-8.8(d), whose parallel for businesses is from memory."""
    asked = datetime(2026, 9, 14, 9, 0, tzinfo=ZoneInfo("America/New_York"))
    for place, cite in (("us-md", "COMAR 15.05.01.12"), ("us-nj", "N.J.A.C. 7:30-8.8(d)")):
        time = time_for(place, cite, "regulator")
        assert (time.at_once, time.due(asked, NEW_YORK)) == (True, asked)


def test_a_holiday_stops_no_hours() -> None:
    """RCW 17.21.100(4)(b): 72 hours, over Thanksgiving Day, 26 November 2026 (5 U.S.C. 6103(a))."""
    time = time_for("us-wa", "RCW 17.21.100(4)(a), (b)", "regulator")
    eve = datetime(2026, 11, 25, 17, 0, tzinfo=SEATTLE)
    assert time.due(eve, AT) == datetime(2026, 11, 28, 17, 0, tzinfo=SEATTLE)


def test_after_a_refusal_the_department_has_the_record_within_24_hours() -> None:
    """RCW 17.21.100(5): the applicator then has 24 hours."""
    time = time_for("us-wa", "RCW 17.21.100(5)", "regulator")
    asked = datetime(2026, 9, 11, 16, 30, tzinfo=SEATTLE)
    assert (time.at_once, time.due(asked, AT)) == (False, asked + timedelta(hours=24))


@pytest.mark.parametrize(
    ("received", "count", "due"),
    [
        (datetime(2026, 9, 11, 16, 30, tzinfo=SEATTLE), 1, date(2026, 9, 14)),
        (datetime(2026, 9, 12, 10, 0, tzinfo=SEATTLE), 1, date(2026, 9, 14)),
        (datetime(2026, 11, 24, 9, 0, tzinfo=SEATTLE), 3, date(2026, 11, 30)),
        (datetime(2026, 10, 30, 16, 0, tzinfo=SEATTLE), 5, date(2026, 11, 6)),
        (datetime(2026, 7, 2, 9, 0, tzinfo=SEATTLE), 1, date(2026, 7, 6)),
    ],
    ids=["weekend", "from-a-saturday", "thanksgiving", "end-of-daylight-time", "holiday-observed-on-a-friday"],
)
def test_business_days_pass_over_weekends_and_holidays_and_end_with_the_day(
    received: datetime, count: int, due: date
) -> None:
    """Holidays of 5 U.S.C. 6103: Thanksgiving Day on 26 November 2026; Independence Day, a Saturday in 2026, is
    observed on Friday, 3 July. Daylight saving time ends on 1 November 2026 (15 U.S.C. 260a). No law that the
    packs state counts the time to answer in business days: the rule is made up."""
    time = said(by=["regulator"], within=f"{count} business day", holidays="us")
    assert time.due(received, AT) == datetime.combine(due, datetime.max.time().replace(microsecond=0), SEATTLE)
