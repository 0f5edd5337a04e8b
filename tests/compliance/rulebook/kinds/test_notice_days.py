"""The days that a notice names. The invented law binds the roof of 14 September 2026."""

from typing import Any

import pytest

from tests.compliance.rulebook.builders import finding, outcome, rule


def notice(**keys: Any) -> dict[str, Any]:
    return rule(id="xx/notice", kind="notice", stage="before", to=["customer"], lead="48 hour", **keys)


def told(planned: str | None, *alternates: str, stated: bool = True) -> dict[str, Any]:
    one: dict[str, Any] = {"to": "customer", "means": "email", "sent_at": "2026-09-10T09:00:00-07:00"}
    if planned:
        one["planned_at"] = f"{planned}T09:00:00-07:00"
    if stated:
        one["alternate_dates"] = list(alternates)
    return {"notices": [one]}


@pytest.mark.parametrize(
    ("its_day", "changes", "expected"),
    [
        ("named", told("2026-09-14"), "met"),
        ("named", told("2026-09-12"), "not_met"),
        ("named", told("2026-09-12", "2026-09-14"), "met"),
        ("named", told(None), "cant_tell"),
        ("named", told("2026-09-12", stated=False), "not_met"),
        (None, told("2026-09-12"), "met"),
    ],
)
def test_the_work_is_on_a_day_that_the_notice_names(
    its_day: str | None, changes: dict[str, Any], expected: str
) -> None:
    keys = {"its_day": its_day} if its_day else {}
    assert outcome(notice(**keys), changes=changes) == expected


def test_a_notice_of_another_day_says_which_it_names() -> None:
    found = finding(notice(its_day="named"), changes=told("2026-09-12"))
    assert "it names September 12, 2026, the treatment is on September 14, 2026" in found.message.say("en")


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        (told("2026-09-14", "2026-09-15", "2026-09-16"), "met"),
        (told("2026-09-14", "2026-09-15"), "not_met"),
        (told("2026-09-14", "2026-09-15", "2026-09-15"), "not_met"),
        (told("2026-09-14", "2026-09-14", "2026-09-15"), "not_met"),
        (told("2026-09-14", "2026-09-10", "2026-09-15"), "not_met"),
        (told("2026-09-14", stated=False), "cant_tell"),
    ],
)
def test_a_notice_names_as_many_other_days_as_it_must(changes: dict[str, Any], expected: str) -> None:
    """Told on 10 September: an alternate date on that day or before it is none."""
    assert outcome(notice(alternates="2", all_of_them="yes"), changes=changes) == expected
