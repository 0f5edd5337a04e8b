"""Kind `notice`: who must be told, and whose notice is whose.

The invented law binds the roof of 14 September 2026, started at 09:12 Pacific daylight time.
"""

import pytest

from tests.compliance.rulebook.builders import findings
from tests.compliance.rulebook.kinds.told_notices import near, notice, per_neighbour, sheets


def test_each_neighbour_who_must_be_told_is_judged() -> None:
    found = per_neighbour(
        sheets("2026-09-14T08:00:00-07:00", "2026-09-11T08:00:00-07:00"),
        near({}, {"abutting": False}, {}, {}),
    )
    assert [(one.outcome, one.about) for one in found] == [
        ("not_met", ("notices", "context.neighbours[3]")),
        ("not_met", ("notices[0].sent_at", "context.neighbours[2]")),
        ("met", ("notices[1].sent_at", "context.neighbours[0]")),
    ]
    assert not any("N." in one.message.say("en") for one in found), "a neighbour's name stays in the context"


@pytest.mark.parametrize("name", ["N. 2", "N. 2 ", " n.  2"])
def test_a_notice_with_a_name_is_that_persons(name: str) -> None:
    changes = sheets("2026-09-11T08:00:00-07:00", name=name)
    found = per_neighbour(changes, near({}, {}))
    assert {one.about[-1]: one.outcome for one in found} == {
        "context.neighbours[0]": "not_met",
        "context.neighbours[1]": "met",
    }


@pytest.mark.parametrize(
    ("distance", "expected"),
    [("150", "met"), ("150.1", "not_applicable"), (None, "cant_tell")],
)
def test_the_distance_decides_who_must_be_told(distance: str | None, expected: str) -> None:
    feet = {"value": distance, "unit": "ft"} if distance else None
    (found,) = per_neighbour(sheets("2026-09-11T08:00:00-07:00"), near({"distance": feet}))
    assert found.outcome == expected
    if expected == "cant_tell":
        assert found.about == ("context.neighbours[0].distance",)
        assert found.message.say("en") == "Neighbour 1: can't tell, because this is not stated: Distance."


def test_without_neighbours_nobody_is_told_and_unknown_ones_cant_be_told() -> None:
    (nobody,) = per_neighbour({"notices": []}, {"neighbours": []})
    (unknown,) = per_neighbour({"notices": []}, {"neighbours": None})
    assert nobody.outcome == "not_applicable"
    assert (unknown.outcome, unknown.about) == ("cant_tell", ("context.neighbours",))


def test_a_notice_to_neighbours_that_leaves_out_which_is_for_all_of_them() -> None:
    far = {"distance": {"value": "900", "unit": "ft"}, "abutting": False}
    found = per_neighbour({"notices": []}, near({}, far), whom=None)
    assert [one.about[-1] for one in found] == [f"context.neighbours[{n}]" for n in (0, 1)]


def test_without_the_notices_each_neighbour_is_named() -> None:
    found = per_neighbour({"notices": None}, near({}, {}))
    assert [one.about for one in found] == [("notices", f"context.neighbours[{n}]") for n in (0, 1)]


def test_registered_persons_are_told_by_the_authoritys_register() -> None:
    listed = {"registered_persons": [{"authority": "us-wa", "abutting": True}, {"authority": "us-or"}]}
    whom = {"fact": "item.authority", "is": "us-wa"}
    one = notice(to=["registered-person"], whom=whom, lead="2 hour")
    changes = {"notices": [{"to": "registered-person", "sent_at": "2026-09-14T07:12:00-07:00"}]}
    assert [found.outcome for found in findings(one, changes=changes, context=listed)] == ["met"]


def test_which_neighbours_may_hang_on_an_open_question() -> None:
    whom = {"question": "xx/question/roofs", "is": "yes"}
    (found,) = per_neighbour({"notices": []}, near({}), whom=whom)
    assert (found.outcome, found.about) == ("cant_tell", ("context.determinations",))


def test_who_stands_on_a_list_twice_takes_no_notice_from_others() -> None:
    """By hand: two notices tell the two names, and whether B. Lark is one person or two nobody has said."""
    people = near({"name": "B. Lark"}, {"name": "b. lark "}, {"name": "C. Wren"})
    two = sheets("2026-09-11T08:00:00-07:00", "2026-09-11T08:00:00-07:00")
    found = sorted(one.outcome for one in per_neighbour(two, people))
    assert found == ["cant_tell", "met", "met"]
    three = sheets(*["2026-09-11T08:00:00-07:00"] * 3)
    assert {one.outcome for one in per_neighbour(three, people)} == {"met"}
    assert {one.outcome for one in per_neighbour({"notices": []}, people)} == {"not_met"}


def test_who_may_have_to_be_told_cant_be_told_until_they_are() -> None:
    because = {"en": "the block is not on the record", "es": "no consta la manzana"}
    perhaps = {"whom": {"fact": "item.abutting", "is": "no"}, "because": because}
    away = near({"abutting": False})
    (found,) = per_neighbour({"notices": []}, away, perhaps=perhaps)
    assert found.outcome == "cant_tell"
    assert "whether they must be told: the block is not on the record" in found.message.say("en")
    (found,) = per_neighbour(sheets("2026-09-11T08:00:00-07:00"), away, perhaps=perhaps)
    assert found.outcome == "met"
    (found,) = per_neighbour(sheets("2026-09-14T08:00:00-07:00"), away, perhaps=perhaps)
    assert found.outcome == "cant_tell"


def test_a_notice_without_a_name_may_have_been_for_who_perhaps_had_to_be_told() -> None:
    """By hand: one notice, and it is unknown whether the first of two must be told."""
    people = near({"distance": None}, {})
    once = sheets("2026-09-11T08:00:00-07:00")
    by_person = {one.about[-1]: one for one in per_neighbour(once, people)}
    assert {one.outcome for one in by_person.values()} == {"cant_tell"}
    assert "it may have been for somebody else" in by_person["context.neighbours[1]"].message.say("en")
    twice = sheets(*["2026-09-11T08:00:00-07:00"] * 2)
    assert {one.about[-1]: one.outcome for one in per_neighbour(twice, people)} == {
        "context.neighbours[0].distance": "cant_tell",
        "context.neighbours[1]": "met",
    }
