"""Kind `notice`: a notice that came back, or may have.

The invented law binds the roof of 14 September 2026, started at 09:12 Pacific daylight time.
"""

from typing import Any

import pytest

from tests.compliance.rulebook.builders import finding, outcome
from tests.compliance.rulebook.kinds.told_notices import notice, told


def came_back(at: str | None) -> dict[str, Any]:
    return {"follow_ups": [{"kind": "notice-returned", "at": at}]}


@pytest.mark.parametrize(
    ("means", "returned", "expected"),
    [
        ("letter", "2026-09-13T09:00:00-07:00", "cant_tell"),
        ("letter", "2026-10-13T09:00:00-07:00", "cant_tell"),
        ("letter", "2026-09-11T07:59:59-07:00", "met"),
        ("letter", None, "cant_tell"),
        ("email", "2026-09-13T09:00:00-07:00", "cant_tell"),
        ("text-message", "2026-09-13T09:00:00-07:00", "cant_tell"),
        (None, "2026-09-13T09:00:00-07:00", "cant_tell"),
        ("door", "2026-09-13T09:00:00-07:00", "met"),
        ("phone", "2026-09-13T09:00:00-07:00", "met"),
    ],
)
def test_a_notice_that_may_have_come_back_cant_be_told(
    means: str | None, returned: str | None, expected: str
) -> None:
    changes = told("2026-09-11T08:00:00-07:00", means=means)
    assert outcome(notice(), changes=changes, context=came_back(returned)) == expected


def test_what_came_back_is_a_notice_whose_arrival_is_not_on_the_record_if_there_is_one() -> None:
    sent = {"to": "customer", "means": "letter", "sent_at": "2026-09-11T08:00:00-07:00"}
    arrived = {**sent, "delivered_at": "2026-09-11T18:00:00-07:00"}
    back = came_back("2026-09-13T09:00:00-07:00")
    assert outcome(notice(), changes={"notices": [sent, arrived]}, context=back) == "met"
    found = finding(notice(), changes={"notices": [arrived]}, context=back)
    assert (found.outcome, found.about) == ("cant_tell", ("context.follow_ups[0].at",))
    assert "a notice came back (2026-09-13 09:00)" in found.message.say("en")


def test_a_late_notice_stays_late_though_it_came_back() -> None:
    changes = told("2026-09-13T08:00:00-07:00", means="letter")
    assert outcome(notice(), changes=changes, context=came_back("2026-09-13T09:00:00-07:00")) == "not_met"


def test_a_follow_up_of_no_stated_kind_may_be_a_notice_that_came_back() -> None:
    unsaid = {"follow_ups": [{"at": "2026-09-13T09:00:00-07:00"}]}
    found = finding(notice(), changes=told("2026-09-11T08:00:00-07:00"), context=unsaid)
    assert (found.outcome, found.about) == ("cant_tell", ("context.follow_ups[0].kind",))


def test_what_follows_another_record_says_nothing_of_this_one() -> None:
    other = {"follows": {"id": "22222222-2b11-4f7e-9a53-000000000001"}}
    back = {"follow_ups": [{**came_back("2026-09-13T09:00:00-07:00")["follow_ups"][0], **other}]}
    assert outcome(notice(), changes=told("2026-09-11T08:00:00-07:00"), context=back) == "met"
