"""Kind `targets`: what was to be killed is named."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import finding, pack, rule

NAMED = rule(kind="targets", judges="products", named=["moss", "algae"])


@pytest.mark.parametrize(
    ("targets", "expected"),
    [
        (["moss"], "met"),
        (["algae", "moss"], "met"),
        (["moss", "lichen"], "not_met"),
        ([], "cant_tell"),
        (None, "cant_tell"),
    ],
)
def test_every_target_is_among_those_named(targets: list[str] | None, expected: str) -> None:
    found = finding(NAMED, changes={"targets": targets})
    assert (found.outcome, found.about) == (expected, ("targets",))


def test_an_unlisted_target_is_named_beside_those_that_are() -> None:
    found = finding(NAMED, changes={"targets": ["lichen", "moss"]})
    assert "Example Act 1(a) does not name lichen, only moss, algae." in found.message.say("en")
    assert "no nombra liquen, solo musgo, algas." in found.message.say("es")


@pytest.mark.parametrize(
    ("keys", "wording"),
    [({"named": ["dragons"]}, "rule/unknown_word"), ({"judges": "people"}, "rule/wrong_subject")],
)
def test_targets_outside_the_form_are_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack({**NAMED, **keys})
    assert caught.value.wording_id == wording
