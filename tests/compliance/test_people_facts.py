"""What is worked out of each person: whom they led, and whether they handled a restricted-use product."""

from typing import Any

import pytest

from compliance.rulebook.facts import Branch, Items, Leaf
from tests.compliance.facts_of import facts

GENERAL = {"products": [{"name": "Sample Walk Wash", "restricted_use": False}]}
RESTRICTED = {"products": [{"name": "Sample Wall Wash", "restricted_use": True}]}
OSEI = {"name": "R. Osei", "tasks": ["sprayed"]}
NOVAK = {"name": "T. Novak", "tasks": ["sprayed"], "supervised_by": "R. Osei"}


def fact(name: str, people: list[dict[str, Any]], mixes: Any, place: int = 0) -> Any:
    subject = facts({"people": people, "mixes": mixes}).subjects["people"].subjects[place]
    return subject.roots["person"].members[name]


@pytest.mark.parametrize(
    ("people", "mixes", "expected"),
    [
        ([OSEI, NOVAK], [RESTRICTED], True),
        ([OSEI, NOVAK], [RESTRICTED, RESTRICTED], True),
        ([OSEI, NOVAK], [RESTRICTED, GENERAL], None),
        ([OSEI], [RESTRICTED, GENERAL], True),
        ([OSEI, {**NOVAK, "tasks": ["mixed"]}], [RESTRICTED, GENERAL], True),
        ([OSEI, {**NOVAK, "tasks": None}], [RESTRICTED, GENERAL], None),
        ([OSEI, NOVAK], [GENERAL, GENERAL], False),
        ([{**OSEI, "tasks": ["hose"]}, NOVAK], [RESTRICTED], False),
        ([{**OSEI, "tasks": None}, NOVAK], [RESTRICTED], None),
        ([{**OSEI, "tasks": None}, NOVAK], [GENERAL], False),
        ([OSEI], [{"products": [{"name": "Sample Wall Wash"}]}], None),
    ],
)
def test_who_sprayed_a_restricted_use_product_is_known_unless_several_shared_several_mixes(
    people: list[dict[str, Any]], mixes: Any, expected: bool | None
) -> None:
    stated = [{key: value for key, value in one.items() if value is not None} for one in people]
    assert fact("sprayed_restricted", stated, mixes).value is expected


def test_who_mixed_it_is_asked_apart() -> None:
    people = [OSEI, {**NOVAK, "tasks": ["mixed"]}]
    assert fact("mixed_restricted", people, [RESTRICTED, GENERAL]).value is False
    assert fact("mixed_restricted", people, [RESTRICTED, GENERAL], 1).value is True


def test_a_person_leads_those_who_sprayed_under_them() -> None:
    led = fact("led", [OSEI, NOVAK, {**NOVAK, "name": "M. Lind", "tasks": ["hose"]}], [GENERAL])
    assert isinstance(led, Items)
    assert [one.path for one in led.items if isinstance(one, Branch)] == ["people[1]"]
    open_still = fact("led", [OSEI, {"name": "M. Lind", "supervised_by": "R. Osei"}], [GENERAL])
    assert (open_still.items, open_still.lacks) == ((), ("people[1].tasks",))


@pytest.mark.parametrize(("tasks", "expected"), [(["sprayed"], True), (["hose"], False), (None, None)])
def test_one_supervises_when_somebody_sprayed_under_them(tasks: Any, expected: bool | None) -> None:
    under = {"name": "T. Novak", "supervised_by": "R. Osei", **({"tasks": tasks} if tasks else {})}
    leaf = fact("supervises", [OSEI, under], [GENERAL])
    assert isinstance(leaf, Leaf)
    assert leaf.value is expected
