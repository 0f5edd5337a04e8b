"""What is offered at a touch, by the table of cases that a phone is held to as well."""

import json

import pytest

from records.forms.sections import SECTIONS
from records.forms.table import Items, Offer, Question
from tests.health.committed import ROOT

CASES = json.loads((ROOT / "fixtures/vectors/offers.json").read_text("utf-8"))


def offers() -> dict[str, Offer]:
    blocks = [block for section in SECTIONS for block in section.blocks]
    inner = [each for block in blocks if isinstance(block, Items) for each in block.blocks]
    found = [each.offers for each in (*blocks, *inner) if isinstance(each, Question) and each.offers]
    return {each.name: each for each in found}


def test_every_offer_has_a_case_in_the_table():
    assert {case["offer"] for case in CASES} == offers().keys()


@pytest.mark.parametrize("case", CASES, ids=[case["says"] for case in CASES])
def test_what_follows_is_offered_as_the_table_says(case):
    assert offers()[case["offer"]].works_out(case["document"], case["item"]) == case["value"]
