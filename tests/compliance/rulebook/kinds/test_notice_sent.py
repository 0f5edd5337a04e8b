"""Kind `notice`: what the sender knows of its notices, what was replaced, what was left on voicemail.

The invented law binds the roof of 14 September 2026, started at 09:12 Pacific daylight time.
"""

from uuid import UUID

import pytest

from tests.compliance.rulebook.builders import outcome
from tests.compliance.rulebook.kinds.told_notices import near, notice, per_neighbour, sheets, told

PAPER, ANOTHER, FIRST, SECOND, MOVED_AWAY = (str(UUID(int=number)) for number in range(1, 6))
IN_TIME, LATER = "2026-09-10T08:00:00-07:00", "2026-09-11T08:00:00-07:00"


def by_neighbour(sent: list[dict], **entry: object) -> dict[str, str]:
    context = near({"id": FIRST}, {"id": SECOND}) | {"sent_notices": sent}
    found = per_neighbour(sheets(IN_TIME, id=PAPER, **entry), context)
    return {one.about[-1]: one.outcome for one in found}


@pytest.mark.parametrize(("person", "told_by_it"), [(FIRST, [0]), (SECOND, [1]), (MOVED_AWAY, [])])
def test_a_notice_without_a_name_is_for_whom_the_sender_knows_it_to_be(
    person: str, told_by_it: list[int]
) -> None:
    found = by_neighbour([{"id": PAPER, "person": person}])
    assert [place for place in (0, 1) if found[f"context.neighbours[{place}]"] == "met"] == told_by_it


def test_one_of_which_the_sender_knows_nothing_is_given_out_in_order() -> None:
    assert by_neighbour([{"id": ANOTHER, "person": SECOND}])["context.neighbours[0]"] == "met"


def test_one_that_came_back_told_nobody() -> None:
    assert set(by_neighbour([{"id": PAPER, "person": FIRST, "lost": True}]).values()) == {"not_met"}


def test_of_one_that_said_something_else_it_can_t_be_told() -> None:
    found = by_neighbour([{"id": PAPER, "person": FIRST, "otherwise": True}])
    assert found["context.neighbours[0]"] == "cant_tell"


def both(first: dict, second: dict) -> dict:
    return {"notices": [*told(IN_TIME, **first)["notices"], *told(LATER, **second)["notices"]]}


MONDAY, TUESDAY = "2026-09-14T09:00:00-07:00", "2026-09-15T09:00:00-07:00"


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        ({"planned_at": MONDAY}, {"planned_at": TUESDAY, "alternate_dates": []}, "not_met"),
        ({"planned_at": TUESDAY}, {"planned_at": MONDAY}, "met"),
        ({"planned_at": MONDAY}, {"planned_at": TUESDAY, "alternate_dates": ["2026-09-14"]}, "met"),
        ({"planned_at": MONDAY}, {"planned_at": None}, "met"),
    ],
)
def test_another_day_that_the_newest_notice_does_not_name_was_replaced(
    first: dict, second: dict, expected: str
) -> None:
    assert outcome(notice(alternates="2"), changes=both(first, second)) == expected


def test_a_late_notice_of_the_same_day_takes_nothing_from_one_in_time() -> None:
    late = {"sent_at": "2026-09-13T20:00:00-07:00"}
    assert outcome(notice(its_day="named"), changes=both({}, late)) == "met"


@pytest.mark.parametrize(
    ("means", "expected"),
    [(None, "cant_tell"), (["phone"], "cant_tell"), (["phone", "voicemail"], "met"), (["letter"], "not_met")],
)
def test_a_message_on_voicemail_will_do_only_where_the_rule_says_so(means: list[str], expected: str) -> None:
    rules = notice(means=means) if means else notice()
    assert outcome(rules, changes=told(IN_TIME, means="voicemail")) == expected
