"""The calendar entry as calendars read it (RFC 5545)."""

from datetime import UTC, datetime

import pytest
from icalendar import Calendar

from compliance.papers.notice import calendar_entry
from tests.compliance.papers.notice.made import planned, to_neighbours

STAMPED = datetime(2026, 9, 1, 12, tzinfo=UTC)


def read(sequence: int = 0, **terms: object) -> tuple[Calendar, object]:
    calendar = Calendar.from_ical(calendar_entry(to_neighbours(**terms), "visit-1@firm", sequence, STAMPED))
    (event,) = calendar.walk("VEVENT")
    return calendar, event


def test_the_visit_stands_in_the_calendar_as_it_is_planned() -> None:
    """09:00 to 11:00 in New York in September is 13:00 to 15:00 UTC."""
    _, event = read()
    assert event.decoded("dtstart") == datetime(2026, 9, 14, 13, tzinfo=UTC)
    assert event.decoded("dtend") == datetime(2026, 9, 14, 15, tzinfo=UTC)
    assert str(event["location"]) == "4 Heron Row, Port Quill, NY 13900"
    assert "Sample Moss Wash" in str(event["description"])


def test_a_change_keeps_the_uid_and_raises_the_sequence() -> None:
    _, before = read(0)
    _, after = read(1)
    assert str(before["uid"]) == str(after["uid"]) == "visit-1@firm"
    assert (before["sequence"], after["sequence"]) == (0, 1)


def test_a_visit_that_is_called_off_leaves_the_calendar() -> None:
    """RFC 5546, 3.2.5: method CANCEL, the same UID, a higher SEQUENCE, status CANCELLED."""
    calendar, event = read(2, called_off=True)
    assert str(calendar["method"]) == "CANCEL"
    assert str(event["status"]) == "CANCELLED"
    assert str(event["uid"]) == "visit-1@firm"


def test_the_same_notice_gives_the_same_bytes() -> None:
    first, second = (calendar_entry(to_neighbours(), "visit-1@firm", 0, STAMPED) for _ in range(2))
    assert first == second


def test_a_visit_without_a_time_has_no_entry() -> None:
    document = planned()
    document["timing"]["planned_at"] = None
    with pytest.raises(ValueError, match="without a time"):
        calendar_entry(to_neighbours(document), "visit-1@firm", 0, STAMPED)
