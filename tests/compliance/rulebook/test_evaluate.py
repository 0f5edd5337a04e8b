"""What the engine makes of rules: stages, things that are not there, order, sameness."""

import json
from typing import Any

import pytest

from compliance.facts_reader import VOCABULARY, read_facts
from compliance.rulebook.evaluate import judge
from records.document.context import Context
from records.document.reader import read
from shared.canonical import canonical_bytes
from tests.compliance.patched import load
from tests.compliance.rulebook.builders import TEXT, WIND, check, finding, findings, outcome, pack, rule

PHONE = rule(kind="record", asks=[{"words": {"en": "phone", "es": "teléfono"}, "path": "customer.phone"}])
PLANNED: dict[str, Any] = {
    "record.result": None,
    "timing": {"planned_at": "2026-09-14T09:00:00-07:00"},
}
STARTED: dict[str, Any] = {
    "record.result": None,
    "timing": {"started_at": "2026-09-14T09:12:00-07:00"},
}


@pytest.mark.parametrize(
    ("stage", "changes", "expected"),
    [
        ("before", PLANNED, "not_applicable"),
        ("during", PLANNED, "not_applicable"),
        ("after", PLANNED, "not_applicable"),
        ("before", STARTED, "not_met"),
        ("during", STARTED, "not_applicable"),
        ("after", STARTED, "not_applicable"),
        ("before", {}, "not_met"),
        ("during", {}, "not_met"),
        ("after", {}, "not_met"),
    ],
)
def test_what_is_not_due_yet_is_still_to_do(stage: str, changes: dict[str, Any], expected: str) -> None:
    assert outcome({**PHONE, "stage": stage}, changes=changes) == expected


def test_what_is_still_to_do_is_said_as_such() -> None:
    found = finding(PHONE, changes=PLANNED)
    assert found.message.say("en") == (
        "Still to do. The record does not state: phone. Enter it with the customer's data."
    )
    assert found.message.say("es") == (
        "Por hacer. El registro no indica: teléfono. Anótelo en los datos del cliente."
    )
    assert found.wording == "to_do"


def test_a_breach_that_is_there_is_told_before_the_work_begins() -> None:
    changes = {**PLANNED, "weather.readings[0].wind_speed": {"value": "14", "unit": "mph"}}
    assert outcome(rule(**WIND), changes=changes) == "not_met"


def test_a_stated_result_ends_the_plan() -> None:
    assert outcome(PHONE, changes={**PLANNED, "record.result": "treated"}) == "not_met"


def test_a_day_stood_down_has_no_products_to_judge() -> None:
    named = rule(kind="record", judges="products", asks=[{"words": TEXT, "path": "product.name"}])
    found = finding(named, changes={"mixes": None, "record.result": "stood-down", "record.why": "wind"})
    assert (found.outcome, found.about) == ("not_applicable", ())


def test_a_limit_on_products_that_are_not_there_cant_tell() -> None:
    strength = rule(kind="limit", quantity="dilution", judges="products", max="5 percent")
    found = finding(strength, changes={"mixes": None})
    assert (found.outcome, found.about) == ("cant_tell", ("mixes",))
    found = finding(strength, changes={"mixes[0].products": None})
    assert found.about == ("mixes[0].products",)


@pytest.mark.parametrize(
    ("when", "expected"),
    [
        ({"fact": "site.indoors", "is": "no"}, "not_met"),
        ({"fact": "site.indoors", "is": "yes"}, "not_applicable"),
        ({"fact": "product.kind", "is": "pesticide"}, "cant_tell"),
        ({"fact": "product.kind", "present": "yes"}, "not_applicable"),
    ],
)
def test_a_condition_is_asked_also_where_there_is_nothing_to_judge(when: Any, expected: str) -> None:
    named = rule(
        kind="record",
        judges="products",
        asks=[{"words": TEXT, "path": "product.name"}],
        when=when,
        otherwise=TEXT,
    )
    found = finding(named, changes={"mixes": None})
    assert found.outcome == expected
    assert found.about[0] in ("mixes", "site.indoors")


@pytest.mark.parametrize(
    "keys",
    [
        {"kind": "ppe", "judges": "people", "wear": ["gloves"]},
        {"kind": "interval", "season": {"from": "03-01", "to": "10-31"}},
        {"kind": "deadline", "done": "timing.recorded_at", "after": "treatment.day", "within": "same day"},
        {"kind": "licence", "holder": "firm"},
        {"kind": "surfaces", "judges": "products", "not_on": ["copper"]},
        {
            "kind": "validity",
            "judges": "products",
            "valid_from": "product.label.valid_from",
            "valid_to": "product.label.valid_to",
        },
        {"kind": "targets", "named": ["moss"]},
        {"kind": "notice", "to": ["neighbour"], "lead": "48 hour"},
        {"kind": "posting", "lead": "before"},
        {"kind": "cumulative", "judges": "products", "total": "treatments", "per": "site", "max": "2"},
        {"kind": "limit", "quantity": "wind_speed", "max": "10 mph"},
    ],
    ids=lambda keys: keys["kind"],
)
def test_a_kind_that_judges_can_be_met_and_not_met(keys: dict[str, Any]) -> None:
    assert {"met", "not_met", "cant_tell"} <= {str(one) for one in pack(rule(**keys)).rules[0].possible()}


def test_a_retention_can_only_not_apply() -> None:
    keep = rule(kind="retention", keep="7 years", after="treatment.day")
    assert pack(keep).rules[0].possible() == {"not_applicable"}


def test_findings_stand_in_the_order_outcome_pack_rule_members() -> None:
    found = check(PHONE, rule(**WIND), changes={"weather.forecast": None})
    places = [(one.outcome.rank, one.pack, one.rule, one.about) for one in found.findings]
    assert places == sorted(places)
    assert [str(one.outcome) for one in found.findings][:2] == ["not_met", "cant_tell"]


def test_findings_of_two_packs_with_one_id_stand_in_order_too() -> None:
    facts = read_facts(read(load("facts/roof-in-september.json")), Context(), None)
    rules = rule(**{**WIND, "id": "xx/two"}), rule(**{**PHONE, "id": "xx/one", "judges": "people"})
    twice = [pack(*rules) for _ in range(2)]
    places = [(one.outcome.rank, one.rule, one.about) for one in judge(twice, facts, VOCABULARY).findings]
    assert places == sorted(places)
    assert len({rule for _rank, rule, _about in places}) == 2


def test_the_same_input_gives_the_same_bytes() -> None:
    once, again = (check(PHONE, rule(**WIND)).stored() for _ in range(2))
    assert canonical_bytes(once) == canonical_bytes(again)


def test_advice_does_not_decide_the_whole() -> None:
    assert check({**PHONE, "level": "advised"}).outcome == "met"
    assert check(PHONE).outcome == "not_met"


def test_a_stored_check_keeps_both_languages_and_what_they_were_made_from() -> None:
    stored = check(PHONE, rule(**WIND, text="memory", doubt=TEXT)).stored()
    by_rule = {one["rule"]: one for one in stored["findings"]}
    phone, wind = by_rule["xx/rule"], by_rule["xx/wind"]
    assert stored["schema"] == "stored-check/1"
    assert phone["message"] == {
        "en": "The record does not state: phone. Enter it with the customer's data.",
        "es": "El registro no indica: teléfono. Anótelo en los datos del cliente.",
    }
    assert phone["blanks"]["asked"] == {"en": "phone", "es": "teléfono"}
    assert wind["blanks"]["observed"] == {"value": "4", "unit": "mph"}
    assert wind["blanks"]["by"] == "Example Act 1(a)"
    assert (wind["text"], wind["doubt"], phone["doubt"]) == ("memory", TEXT, None)
    assert stored["packs"][0]["reviewed"] == {"on": "2026-11-25", "by_means": "read"}
    assert [one["id"] for one in stored["questions"]] == ["xx/question/roofs"]
    assert json.loads(json.dumps(stored)) == stored


def test_a_question_that_the_firm_has_answered_is_not_asked_again() -> None:
    answer = {"determinations": [{"question": "xx/question/roofs", "answer": "no"}]}
    assert check(PHONE, context=answer).stored()["questions"] == []


FAR = [
    {"kind": "deadline", "done": "timing.recorded_at", "after": "treatment.day", "within": "30 day"},
    {"kind": "deadline", "done": "timing.recorded_at", "after": "timing.started_at", "within": "72 hour"},
    {"kind": "retention", "keep": "7 years", "after": "treatment.day"},
    {"kind": "report", "period": "year", "due": "01-31", "to": {"en": "an office", "es": "una oficina"}},
    {"kind": "notice", "to": ["customer"], "lead": "5 business day", "holidays": "us", "valid": "30 day"},
    {"kind": "notice", "to": ["customer"], "lead": "48 hour", "earliest": "7 day"},
    {"kind": "posting", "lead": "before", "kept": "24 hour"},
]


@pytest.mark.parametrize("day", ["2199-12-31", "1900-01-01"])
@pytest.mark.parametrize("keys", FAR, ids=lambda keys: keys["kind"])
def test_at_the_ends_of_a_documents_years_every_count_still_answers(keys: dict[str, Any], day: str) -> None:
    at = f"{day}T09:12:00-01:00"
    timing = {"started_at": at, "finished_at": at, "recorded_at": at}
    notice = {"to": "customer", "sent_at": at, "planned_at": at}
    changes = {"timing": timing, "notices": [notice], "postings": [{"posted_at": at}]}
    for zone in ("America/Los_Angeles", "Pacific/Auckland"):
        assert findings(rule(**keys), changes={**changes, "site.time_zone": zone})
