"""What is left out never makes a rule met: a member set to null turns no 'not met' or 'can't tell' into 'met'.

An item taken out of a list states something else, and so does an operand of `present`; where the document's
format itself names a stand-in for what is left out, the stand-in is stated.
"""

import json
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from compliance.pack_reader import registered_packs
from tests.compliance.rulebook.situations import (
    FEW,
    MANY,
    Situation,
    Steps,
    named,
    outcomes,
    places_of,
    replaced,
    situations,
)

STAND_INS = {
    "timing.started_at": "the day of the treatment is then the planned one",
    "mixes.surfaces.applied": "what the mix applied is then set over all of its surfaces",
    "site.county": "the county is then the one among the jurisdictions",
    "site.time_zone": "days are then counted in the offset of the start",
    "notices.delivered_at": "a notice was told when it was sent",
    "notices.sent_at": "a notice was told when it was delivered, and was sent by then",
    "follow_ups.follows": "a follow-up that names no record is of the one at hand",
    "notices.notice": "two notices that name no paper are two",
    "notices.name": "a neighbour's name is withheld: notices are then given out in order",
    "neighbours.name": "the same, of the list of neighbours",
    "registered_persons.name": "the same, of the list of registered persons",
}
DERIVED = {"readings": "weather.readings", "traces_of_work": "mixes people", "applied": "record.result"}
SUBJECTS = {"product": "mixes.products", "mix": "mixes", "person": "people", "surface": "surfaces"}


def members_of(parts: dict[str, Any]) -> list[Steps]:
    """What can be left out: everything that is stated, items of lists apart."""
    return [
        steps
        for steps, value in places_of(parts)
        if value is not None and len(steps) > 1 and isinstance(steps[-1], str) and steps[-1] != "schema"
    ]


def pattern_of(steps: Steps) -> str:
    """The member's path without indices, as from the document (an earlier one's, too)."""
    names = [step for step in steps[1:] if isinstance(step, str)]
    return ".".join(names[1:] if names[0] == "earlier" and len(names) > 1 else names)


@cache
def asked_to_be_present() -> Mapping[str, frozenset[str]]:
    """For each rule the operands of `present` in it, as paths in the document."""
    found: dict[str, frozenset[str]] = {}
    for pack in registered_packs():
        for topic in json.loads(pack.content)["rules"].values():
            common = set(operands(topic.get("when")))
            for rule in topic["rules"]:
                found[rule["id"]] = frozenset(common | set(operands(rule)))
    return found


def operands(raw: Any) -> Iterator[str]:
    for part in (raw, *(part for _, part in places_of(raw))):
        if isinstance(part, dict) and "present" in part:
            root, _, rest = part["fact"].partition(".")
            if root == "treatment":
                yield from DERIVED[rest].split()
            else:
                names = (SUBJECTS.get(root, root), rest)
                yield ".".join(name for name in names if name).removeprefix("context.")


def hangs_on_presence(rule: str, pattern: str) -> bool:
    """Whether what is left out is, holds or lies in an operand of `present`."""
    for operand in asked_to_be_present().get(rule, ()):
        there = operand.removeprefix("item.") if operand.startswith("item.") else operand
        if f"{pattern}.".startswith(f"{there}.") or f"{there}.".startswith(f"{pattern}."):
            return True
        if operand.startswith("item") and pattern.endswith(there.removeprefix("item")):
            return True
    return False


def turned(before: list[str], after: list[str]) -> bool:
    """Whether something came to be met that was not met or could not be told."""
    if len(before) == len(after):
        return any(b in ("not_met", "cant_tell") and a == "met" for b, a in zip(before, after, strict=True))
    return "met" in after and "met" not in before


def refuse_turning(parts: dict[str, Any], steps: Steps, before: dict[str, list[str]]) -> bool:
    """Leave one member out and compare; False if what is left is no document."""
    after = outcomes(replaced(parts, steps, None))
    pattern = pattern_of(steps)
    if after is None or pattern in STAND_INS or pattern.endswith("id"):
        return after is not None
    for rule, found in before.items():
        better = turned(found, after.get(rule, []))
        assert not better or hangs_on_presence(rule, pattern), (rule, steps, found, after[rule])
    return True


def leave_out(situation: Situation, data: st.DataObject) -> None:
    parts = situation.parts
    before = outcomes(parts)
    assume(before)
    steps = data.draw(st.sampled_from(members_of(parts)))
    assume(refuse_turning(parts, steps, before or {}))


@FEW
@given(st.sampled_from(situations()), st.data())
def test_leaving_a_member_out_makes_nothing_met(situation: Situation, data: st.DataObject) -> None:
    leave_out(situation, data)


@pytest.mark.long
@MANY
@given(st.sampled_from(situations()), st.data())
def test_leaving_any_member_of_any_example_out_makes_nothing_met(
    situation: Situation, data: st.DataObject
) -> None:
    leave_out(situation, data)


@pytest.mark.long
@pytest.mark.parametrize("situation", named(), ids=lambda situation: situation.says)
def test_leaving_each_member_of_a_situation_out_makes_nothing_met(situation: Situation) -> None:
    parts = situation.parts
    before = outcomes(parts)
    assert before
    assert sum(refuse_turning(parts, steps, before) for steps in members_of(parts)) > 100
