"""The planned visit as a calendar entry (RFC 5545): one UID for good, a higher SEQUENCE with each change."""

from datetime import UTC, datetime, timedelta

from icalendar import Calendar, Event

from compliance.papers.notice.content import NoticeContent

_WITHOUT_AN_END = timedelta(hours=1)
"""How long an entry is where no end is planned: common practice, no source."""


def calendar_entry(content: NoticeContent, uid: str, sequence: int, stamped: datetime) -> bytes:
    """The entry as bytes of `text/calendar`; called off: with method CANCEL. Raises ValueError without a time.

    `uid` names the visit for good; `stamped` is when the notice was made.
    """
    if content.planned_at is None:
        raise ValueError("a visit without a time has no place in a calendar")
    calendar = Calendar()
    calendar.add("prodid", "-//notices//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "CANCEL" if content.called_off else "PUBLISH")
    calendar.add_component(_event(content, content.planned_at, uid, sequence, stamped))
    return bytes(calendar.to_ical())


def _event(content: NoticeContent, start: datetime, uid: str, sequence: int, stamped: datetime) -> Event:
    event = Event()
    event.add("uid", uid)
    event.add("sequence", sequence)
    event.add("dtstamp", stamped.astimezone(UTC))
    event.add("dtstart", start.astimezone(UTC))
    event.add("dtend", (content.until or start + _WITHOUT_AN_END).astimezone(UTC))
    event.add("summary", " / ".join(dict.fromkeys(side.title for side in content.sides)))
    event.add("location", content.place)
    told = "\n".join(
        f"{line.label}: {line.value}" for side in content.sides for line in side.lines if line.value
    )
    event.add("description", told)
    event.add("status", "CANCELLED" if content.called_off else "CONFIRMED")
    event.add("transp", "TRANSPARENT")
    return event
