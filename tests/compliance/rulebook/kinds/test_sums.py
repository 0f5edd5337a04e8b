"""Kind sums: amounts on the record add up."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import WIND, check, finding, outcome, pack, rule

MIX = "mixes[0]"


def sums(of: str = "unaccounted", **keys: Any) -> dict[str, Any]:
    return rule(
        **{"kind": "sums", "judges": "mixes", "stage": "after", "of": of, "within": "2 percent", **keys}
    )


def gallons(value: str) -> dict[str, str]:
    return {"value": value, "unit": "gal"}


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "met"),
        ({f"{MIX}.left_over.amount": gallons("0.7")}, "met"),
        ({f"{MIX}.left_over.amount": gallons("0.699999999")}, "not_met"),
        ({f"{MIX}.left_over.amount": gallons("1.3")}, "met"),
        ({f"{MIX}.left_over.amount": gallons("1.300000001")}, "not_met"),
        ({f"{MIX}.left_over.amount": None}, "not_met"),
        ({f"{MIX}.left_over": None}, "met"),
        ({f"{MIX}.left_over": None, f"{MIX}.applied": gallons("16")}, "not_met"),
        ({f"{MIX}.applied": None}, "not_applicable"),
        ({f"{MIX}.diluent": None}, "not_applicable"),
        ({f"{MIX}.applied": {"value": "100", "unit": "lb"}}, "not_applicable"),
        ({f"{MIX}.left_over.surface": "Main roof, north slope", f"{MIX}.applied": gallons("15")}, "met"),
    ],
)
def test_applied_and_left_over_are_what_was_mixed(changes: dict[str, Any], expected: str) -> None:
    """1.5 gal and 13.5 gal make 15 gal; 2 % of it are 0.3 gal."""
    assert outcome(sums(), changes=changes) == expected


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "met"),
        ({f"{MIX}.surfaces[0].applied": gallons("12")}, "not_met"),
        ({f"{MIX}.surfaces[0].applied": None}, "not_applicable"),
        ({f"{MIX}.surfaces": None}, "not_applicable"),
        ({f"{MIX}.applied": None}, "not_applicable"),
        ({f"{MIX}.applied": gallons("0")}, "not_applicable"),
    ],
)
def test_the_surfaces_together_got_what_was_applied(changes: dict[str, Any], expected: str) -> None:
    assert outcome(sums("surfaces_differ"), changes=changes) == expected


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "met"),
        ({f"{MIX}.loads[0].volume": gallons("16")}, "not_met"),
        ({f"{MIX}.loads[1]": {"batch": "B-1"}}, "not_applicable"),
        ({f"{MIX}.diluent": None}, "not_applicable"),
    ],
)
def test_the_loads_together_are_what_was_mixed(changes: dict[str, Any], expected: str) -> None:
    assert outcome(sums("loads_differ"), changes=changes) == expected


def test_a_sum_that_disagrees_says_by_how_much() -> None:
    found = finding(sums(), changes={f"{MIX}.left_over.amount": gallons("4")})
    assert found.about == (f"{MIX}.applied", f"{MIX}.left_over.amount")
    assert "the sums differ by 20 %" in found.message.say("en")


def test_every_record_is_added_up_as_advice() -> None:
    found = check(rule(**WIND), changes={f"{MIX}.left_over.amount": gallons("4")})
    (own,) = [one for one in found.findings if one.rule == "sums/unaccounted"]
    assert (own.outcome, own.level, own.layer, found.outcome) == ("not_met", "advised", "record", "met")


def test_sums_outside_the_list_are_refused() -> None:
    with pytest.raises(RuleError, match="is not allowed here"):
        pack(sums("everything"))
    assert len(pack(sums()).rules[0].possible()) == 4
