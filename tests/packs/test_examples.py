"""Every example of every registered pack, and for each rule the outcomes that have none."""

import pytest

from compliance.pack_examples import Example, examples_of, seen, wanted
from compliance.pack_reader import PACKS, registered_packs, registry
from compliance.rulebook.rule import Rule

_FOLDERS = registry(PACKS / "registry.yaml")
_EXAMPLES = [
    example
    for pack, folder in zip(registered_packs(), _FOLDERS, strict=True)
    for example in examples_of(pack, PACKS / folder)
]
_RULES = [rule for pack in registered_packs() for rule in pack.rules]


@pytest.mark.parametrize("example", _EXAMPLES, ids=lambda example: f"{example.pack.id}: {example.says}")
def test_each_example_of_a_pack_gives_the_outcomes_that_it_expects(example: Example) -> None:
    known = {rule.id for rule in example.pack.rules}
    check = example.check()
    for rule, expected in example.expect.items():
        assert rule in known, f"there is no rule {rule}"
        found, asked = seen(check, rule), wanted(expected)
        assert {key: found.get(key) for key in asked} == asked, f"{rule}: {found.get('message')}"


@pytest.mark.parametrize("rule", _RULES, ids=lambda rule: rule.id)
def test_each_rule_has_an_example_for_each_outcome_that_it_can_give(rule: Rule) -> None:
    shown = {wanted(expected)["outcome"] for example in _EXAMPLES for expected in _of(example, rule)}
    lacking = {str(outcome) for outcome in rule.possible()} - shown
    assert not lacking, f"{rule.id} has no example for {', '.join(sorted(lacking))}"


def _of(example: Example, rule: Rule) -> list[object]:
    return [expected for name, expected in example.expect.items() if name == rule.id]
