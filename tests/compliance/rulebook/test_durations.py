"""Lengths of time at the ends of the calendar: a moment past an end is that end."""

from datetime import UTC, datetime

from compliance.facts_reader import read_facts
from compliance.rulebook.durations import Duration
from records.document.context import Context
from records.document.reader import read
from shared.quantities import Quantity
from tests.compliance.patched import load

FACTS = read_facts(read(load("facts/roof-in-september.json")), Context())
THREE_DAYS = Duration(hours=Quantity("72", "hour"))


def test_hours_past_the_last_day_end_with_it() -> None:
    last = datetime(9999, 12, 31, tzinfo=UTC)
    assert THREE_DAYS.after(last, FACTS).isoformat() == "9999-12-31T23:59:59-08:00"


def test_hours_before_the_first_day_begin_with_it() -> None:
    first = datetime(1, 1, 2, tzinfo=UTC)
    assert THREE_DAYS.before(first, FACTS).replace(tzinfo=None).isoformat() == "0001-01-01T00:00:00"
