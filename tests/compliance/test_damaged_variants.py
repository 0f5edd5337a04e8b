"""The example document, damaged in one place at a time: the check names exactly what is wrong.

Each variant in fixtures/damaged says what is damaged, which members change, the outcome of the whole, and
every rule whose answer becomes another one, with its outcome and the members named. A key that ends in
`/*` stands for the rules that begin so and change.
"""

import json
from typing import Any

import pytest

from compliance.rulebook.outcome import Outcome, worst
from tests.compliance.checked import by_rule, check
from tests.compliance.patched import FIXTURES, load, patched

EXAMPLE = load("documents/example.json")
CONTEXT = load("documents/example-context.json")
VARIANTS: list[dict[str, Any]] = [
    variant
    for file in sorted((FIXTURES / "damaged").glob("*.json"))
    for variant in json.loads(file.read_text(encoding="utf-8"))
]


def answers(checked: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """For each rule its worst outcome, and the members that the findings of that outcome name."""
    return {rule: _answer(findings) for rule, findings in by_rule(checked).items()}


def _answer(findings: list[dict[str, Any]]) -> dict[str, Any]:
    outcome = worst(Outcome(finding["outcome"]) for finding in findings)
    named = [path for finding in findings if finding["outcome"] == outcome for path in finding["about"]]
    return {"outcome": str(outcome), "about": named}


def key_of(rule: str, expect: dict[str, Any]) -> str:
    """The key of the expectation that covers a rule: its own, else the longest that stands for it."""
    covering = [key for key in expect if key == rule or (key.endswith("/*") and rule.startswith(key[:-1]))]
    assert covering, f"{rule} changed, though nothing was said of it"
    return max(covering, key=lambda key: (key == rule, len(key)))


@pytest.fixture(scope="module")
def whole() -> dict[str, dict[str, Any]]:
    return answers(check(EXAMPLE, CONTEXT))


def test_there_are_at_least_forty_variants_each_with_its_own_sentence() -> None:
    assert len({variant["says"] for variant in VARIANTS}) == len(VARIANTS) >= 40


def test_the_undamaged_example_is_met() -> None:
    assert check(EXAMPLE, CONTEXT)["outcome"] == "met"


@pytest.mark.parametrize("variant", VARIANTS, ids=[variant["says"] for variant in VARIANTS])
def test_a_damaged_variant_is_told_exactly_what_is_wrong(
    variant: dict[str, Any], whole: dict[str, dict[str, Any]]
) -> None:
    expect = variant["expect"]
    absent = {"outcome": "absent", "about": []}
    checked = check(patched(EXAMPLE, variant["change"]), patched(CONTEXT, variant.get("context", {})))
    found = answers(checked)
    changed = {
        rule: found.get(rule, absent)
        for rule in {*whole, *found}
        if found.get(rule, absent)["outcome"] != whole.get(rule, absent)["outcome"]
    }
    keys = {rule: key_of(rule, expect) for rule in changed}
    assert set(keys.values()) == set(expect), "a rule was to change and did not"
    for rule, answer in changed.items():
        expected = expect[keys[rule]]
        assert {key: answer[key] for key in expected} == expected, rule
    assert checked["outcome"] == variant["outcome"]
