"""Kind ppe: what those who handle a product must wear."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import finding, pack, rule

WEAR = rule(kind="ppe", judges="people", wear=["gloves", "respirator"])


@pytest.mark.parametrize(
    ("changes", "expected", "about"),
    [
        ({"people[0].ppe": ["gloves", "respirator"]}, "met", "people[0].ppe"),
        ({}, "not_met", "people[0].ppe"),
        ({"people[0].ppe": []}, "not_met", "people[0].ppe"),
        ({"people[0].ppe": None}, "cant_tell", "people[0].ppe"),
        ({"people[0].tasks": None}, "cant_tell", "people[0].tasks"),
        ({"people[0].tasks": ["hose", "drove"]}, "not_met", "people[0].ppe"),
        ({"people[0].tasks": ["rinsed"]}, "not_met", "people[0].ppe"),
        ({"people[0].tasks": ["protected", "drove"]}, "not_applicable", "people[0].tasks"),
    ],
)
def test_who_handled_the_product_wears_what_is_asked_for(
    changes: dict[str, Any], expected: str, about: str
) -> None:
    found = finding(WEAR, changes=changes)
    assert (found.outcome, found.about) == (expected, (about,))


def test_only_what_is_missing_is_said() -> None:
    assert finding(WEAR).message.say("en") == (
        "R. Osei: Example Act 1(a) asks for respirator; the record does not show it worn. Put it on before "
        "going on, and tick it."
    )


@pytest.mark.parametrize(
    ("keys", "wording"),
    [({"wear": ["cape"]}, "rule/unknown_word"), ({"judges": "document"}, "rule/wrong_subject")],
)
def test_equipment_outside_the_list_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack({**WEAR, **keys})
    assert caught.value.wording_id == wording
