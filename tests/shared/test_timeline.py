"""Dated values and half-open spans."""

from datetime import date

import pytest

from shared.timeline import Span, Timeline

OLD, NEW = date(2019, 1, 1), date(2024, 7, 1)


def test_a_value_holds_from_its_first_day_to_the_day_before_the_next() -> None:
    limits = Timeline({NEW: "10 mph", OLD: "15 mph"})
    assert limits.in_force_on(OLD) == "15 mph"
    assert limits.in_force_on(date(2024, 6, 30)) == "15 mph"
    assert limits.in_force_on(NEW) == "10 mph"
    assert limits.values == ("15 mph", "10 mph")


def test_before_the_first_value_nothing_is_in_force() -> None:
    assert Timeline({OLD: "15 mph"}).in_force_on(date(2018, 12, 31)) is None


def test_an_expected_change_is_kept_but_never_computed_with() -> None:
    limits = Timeline({OLD: "15 mph"}, expected=(date(2027, 1, 1),))
    assert limits.in_force_on(date(2028, 1, 1)) == "15 mph"
    assert limits.expected == (date(2027, 1, 1),)


def test_a_span_holds_its_first_day_but_not_its_end() -> None:
    span = Span(OLD, NEW)
    assert span.holds(OLD)
    assert span.holds(date(2024, 6, 30))
    assert not span.holds(NEW)
    assert not span.holds(date(2018, 12, 31))


def test_an_open_span_holds_every_day() -> None:
    assert Span().open
    assert Span().holds(date.min)
    assert not Span(until=NEW).open
    assert not Span(start=OLD).open


def test_a_span_cannot_end_on_its_first_day() -> None:
    with pytest.raises(ValueError, match="must end after its first day"):
        Span(OLD, OLD)
