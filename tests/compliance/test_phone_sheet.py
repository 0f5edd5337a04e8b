"""The sheet that a phone judges by without a signal comes from the rules of the check, and says the same."""

import re
from collections.abc import Iterator
from typing import Any

import pytest

from compliance.facts_reader import VOCABULARY, read_facts
from compliance.pages.phone_sheet import sheet_of
from compliance.phone_sheet.conditions import Answers, on_the_phone
from records.document.context import read_context
from records.document.reader import read
from tests.compliance.own import CALM, use_own
from tests.compliance.patched import load
from tests.compliance.phone import Case, cases, in_order, marks

CASES = cases()


def test_the_table_has_at_least_forty_cases_each_with_a_name_of_its_own():
    assert len({case.name for case in CASES}) == len(CASES) >= 40


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_full_check_finds_what_the_table_expects_of_the_phone(case: Case):
    assert marks(case.told_by_server()) == in_order([*case.expected, *case.left])


def test_a_sheet_holds_text_and_whole_numbers_only():
    (case, *_) = CASES
    assert not any(isinstance(each, float) for each in values_in(case.sheet()))


def test_factors_of_units_are_exact_fractions():
    units = CASES[0].sheet()["units"]
    assert units["mph"]["factor"] == "1397/3125"
    assert (units["degF"]["factor"], units["degF"]["offset"]) == ("5/9", "-160/9")


def test_what_is_computed_from_amounts_is_left_to_the_server():
    rules = {must["rule"] for must in CASES[0].sheet()["musts"]}
    assert "us-wa/record/wind" in rules
    assert "us-wa/record/rate" not in rules


def test_what_is_only_advised_is_no_must():
    assert "us-wa/record/wind-during" not in {must["rule"] for must in CASES[0].sheet()["musts"]}


def test_a_firms_answer_to_an_open_question_is_on_the_sheet_as_answered():
    asked = {"question": "us-fl/question/pest-control", "is": "yes"}
    document = read(load("facts/roof-in-florida.json"))
    answer = {"question": asked["question"], "answer": "yes", "by": "J. Quill"}
    told = {}
    for name, given in (("answered", [answer]), ("open", [])):
        facts = read_facts(document, read_context({"determinations": given}))
        answers = Answers(facts, "document", {asked["question"]: ("yes", "no")})
        told[name] = on_the_phone(asked, VOCABULARY.roots("document"), answers)
    assert told == {"answered": {"truth": True}, "open": {"truth": None}}


def test_a_word_of_another_law_stays_one_that_does_not_tell():
    asked = {"fact": "product.regime", "is": "biocide", "among": ["biocide", "plant-protection"]}
    answers = Answers(read_facts(read(CASES[0].known), read_context({})), "products", {})
    told = on_the_phone(asked, VOCABULARY.roots("products"), answers)
    assert (told["is"], told["among"]) == (["biocide"], ["biocide", "plant-protection"])


def test_a_limit_says_who_sets_it_and_a_doubtful_rule_its_doubt():
    sheet = CASES[0].sheet()
    (label,) = sheet["labels"]
    wind = next(limit for limit in label["limits"] if limit["of"] == "wind_speed")
    assert wind["cite"] == {
        "en": "label of Sample Moss Wash, 2025-03",
        "es": "etiqueta de Sample Moss Wash, 2025-03",
    }
    address = next(must for must in sheet["musts"] if must["rule"] == "us-wa/record/customer-address")
    assert "from memory" in address["doubt"]["en"]


def test_every_member_that_may_be_missing_has_a_sentence_of_what_to_do():
    for case in CASES:
        sheet, told = case.sheet(), [one["path"] for one in case.expected if one["state"] == "missing"]
        assert {re.sub(r"\[\d+\]", "", path) for path in told} <= sheet["mends"].keys()


@pytest.mark.django_db
def test_a_draft_has_its_sheet_with_the_firms_own_rules_in_it(draft):
    use_own(draft.firm, CALM)
    limits = {limit["rule"]: limit.get("max") for limit in sheet_of(draft)["limits"]}
    assert limits["firm/1"]["value"] == "8"


def values_in(value: Any) -> Iterator[Any]:
    if isinstance(value, dict | list):
        for each in value.values() if isinstance(value, dict) else value:
            yield from values_in(each)
    else:
        yield value
