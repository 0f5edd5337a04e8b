"""Every example of every registered pack, and for each rule the outcomes that have none."""

import pytest

from compliance.pack_examples import Example, registered_examples, seen, wanted
from compliance.pack_reader import registered_packs
from compliance.rulebook.pack import Pack
from compliance.rulebook.rule import Rule

each_pack = pytest.mark.parametrize("pack", registered_packs(), ids=lambda pack: pack.id)


@each_pack
def test_each_example_of_a_pack_gives_the_outcomes_that_it_expects(pack: Pack) -> None:
    amiss = {
        example.says: found
        for example in registered_examples()[pack.id]
        if (found := other_than_expected(example))
    }
    assert amiss == {}


def other_than_expected(example: Example) -> dict[str, object]:
    """What was found of each rule of which something else was expected."""
    known = {rule.id for rule in example.pack.rules}
    check = example.check()
    amiss: dict[str, object] = {}
    for rule, expected in example.expect.items():
        if rule not in known:
            amiss[rule] = "there is no such rule"
            continue
        found, asked = seen(check, rule), wanted(expected)
        if {key: found.get(key) for key in asked} != asked:
            amiss[rule] = {"expected": asked, "found": found}
    return amiss


@each_pack
def test_each_rule_has_an_example_for_each_outcome_that_it_can_give(pack: Pack) -> None:
    shown = [
        (rule, wanted(expected)["outcome"])
        for one in registered_examples()[pack.id]
        for rule, expected in one.expect.items()
    ]
    assert {rule.id: lacks for rule in pack.rules if (lacks := lacking(rule, shown))} == {}


def lacking(rule: Rule, shown: list[tuple[str, object]]) -> list[str]:
    return sorted(
        {str(outcome) for outcome in rule.possible()} - {outcome for name, outcome in shown if name == rule.id}
    )
