"""Kind record: not met by absence."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import finding, outcome, pack, rule

WORDS = {"en": "wind speed", "es": "velocidad del viento"}
CALM = {"fact": "item.calm", "is": "yes"}


def record(*asks: dict[str, Any], **keys: Any) -> dict[str, Any]:
    return rule(kind="record", asks=[{"words": WORDS, **ask} for ask in asks], **keys)


EVERY_SPEED = {"every": "treatment.readings", "path": "item.wind_speed"}
SOME_SPEED = {"some": "treatment.readings", "path": "item.wind_speed"}
SECOND = {"weather.readings[1]": {"at": "2026-09-14T09:40:00-07:00"}}
NO_SPEED = {"weather.readings[0].wind_speed": None}


def test_a_record_that_states_what_is_asked_for_is_met() -> None:
    assert outcome(record({"path": "site.address.line1"})) == "met"


def test_what_is_missing_is_named_by_path_and_in_words() -> None:
    found = finding(record(EVERY_SPEED, mend={"en": "Measure it.", "es": "Mídala."}), changes=NO_SPEED)
    assert (found.outcome, found.about) == ("not_met", ("weather.readings[0].wind_speed",))
    assert found.message.say("en") == "The record does not state: wind speed. Measure it."
    assert found.message.say("es") == "El registro no indica: velocidad del viento. Mídala."


@pytest.mark.parametrize(
    ("asks", "expected"), [(EVERY_SPEED, "not_met"), (SOME_SPEED, "met")], ids=["every", "some"]
)
def test_every_item_must_state_it_or_some(asks: dict[str, str], expected: str) -> None:
    assert outcome(record(asks), changes=SECOND) == expected


def test_no_item_that_states_it_is_not_met() -> None:
    assert outcome(record(SOME_SPEED), changes=NO_SPEED) == "not_met"


@pytest.mark.parametrize("readings", [[], None])
@pytest.mark.parametrize("asks", [EVERY_SPEED, SOME_SPEED])
def test_no_readings_are_not_met_for_the_record(asks: dict[str, str], readings: Any) -> None:
    found = finding(record(asks), changes={"weather.readings": readings})
    assert (found.outcome, found.about) == ("not_met", ("weather.readings",))


@pytest.mark.parametrize("asks", [EVERY_SPEED, SOME_SPEED])
def test_a_reading_without_its_time_leaves_open_whether_there_is_one(asks: dict[str, str]) -> None:
    found = finding(record(asks), changes={"weather.readings[0].at": None})
    assert (found.outcome, found.about) == ("cant_tell", ("weather.readings[0].at",))


def test_a_second_reading_without_its_time_leaves_every_open() -> None:
    changes = {"weather.readings[1]": {"wind_speed": {"value": "3", "unit": "mph"}}}
    assert outcome(record(EVERY_SPEED), changes=changes) == "cant_tell"
    assert outcome(record(SOME_SPEED), changes=changes) == "met"
    assert outcome(record(EVERY_SPEED), changes={**changes, **NO_SPEED}) == "not_met"


def test_any_of_several_paths_will_do_and_the_first_is_named_if_none_is_there() -> None:
    asks = {"one_of": ["customer.phone", "customer.email"]}
    assert outcome(record(asks)) == "met"
    assert finding(record(asks), changes={"customer.email": None}).about == ("customer.phone",)


def test_all_of_several_paths_name_each_that_is_missing() -> None:
    asks = {"all_of": ["customer.phone", "customer.name", "customer.email"]}
    found = finding(record(asks), changes={"customer.email": None})
    assert found.about == ("customer.phone", "customer.email")


def test_calm_air_has_no_direction_and_none_is_missing() -> None:
    asks = {"every": "treatment.readings", "path": "item.wind_from", "unless": CALM}
    calm = {"weather.readings[0].wind_from": None, "weather.readings[0].calm": True}
    assert outcome(record(asks), changes=calm) == "met"
    assert outcome(record(asks), changes={**calm, "weather.readings[0].calm": None}) == "not_met"


def test_calm_air_has_a_speed_of_nothing() -> None:
    calm = {**NO_SPEED, "weather.readings[0].calm": True}
    assert outcome(record(EVERY_SPEED), changes=calm) == "met"


def test_what_is_asked_only_under_a_condition_is_cant_tell_while_that_is_unknown() -> None:
    home = {"fact": "site.use", "is": "residence"}
    phone, name = ({"path": f"customer.{member}", "only": home} for member in ("phone", "name"))
    assert outcome(record(phone)) == "not_met"
    assert outcome(record(phone), changes={"site.use": "school"}) == "met"
    found = finding(record(phone), changes={"site.use": None})
    assert (found.outcome, found.about) == ("cant_tell", ("site.use",))
    assert outcome(record(name), changes={"site.use": None}) == "met"


def test_a_reading_that_cant_be_told_does_not_hide_one_that_lacks_the_value() -> None:
    calm = {"fact": "item.calm", "is": "no"}
    asks = {"every": "treatment.readings", "path": "item.gust", "only": calm}
    changes = {"weather.readings[0].calm": None, **SECOND}
    assert outcome(record(asks), changes=changes) == "cant_tell"
    changes["weather.readings[1]"] = {**SECOND["weather.readings[1]"], "calm": False}
    found = finding(record(asks), changes=changes)
    assert (found.outcome, found.about) == ("not_met", ("weather.readings[1].gust",))


def test_a_computed_amount_names_the_members_that_it_lacks() -> None:
    asks = {"path": "product.rate"}
    assert outcome(record(asks, judges="products")) == "met"
    found = finding(record(asks, judges="products"), changes={"surfaces[0].treated_area": None})
    assert (found.outcome, found.about) == ("not_met", ("surfaces[0].treated_area",))


def test_a_list_that_is_asked_for_must_have_an_item() -> None:
    asks = {"path": "product.active_ingredients"}
    changes = {"mixes[0].products[0].active_ingredients": []}
    found = finding(record(asks, judges="products"), changes=changes)
    assert (found.outcome, found.about) == ("not_met", ("mixes[0].products[0].active_ingredients",))


@pytest.mark.parametrize("mixes", [None, []])
def test_a_treated_record_without_products_states_nothing_of_them(mixes: Any) -> None:
    found = finding(record({"path": "product.name"}, judges="products"), changes={"mixes": mixes})
    assert (found.outcome, found.about) == ("not_met", ("mixes",))


def test_one_finding_stands_for_each_thing_that_is_judged() -> None:
    found = finding(record({"path": "person.phone"}, judges="people"))
    assert found.about == ("people[0].phone",)
    assert found.message.say("en").startswith("R. Osei: ")


@pytest.mark.parametrize(
    ("ask", "wording"),
    [
        ({}, "rule/one_of_keys"),
        ({"path": "site.use", "one_of": ["site.use"]}, "rule/one_of_keys"),
        ({"path": "item.name"}, "rule/unknown_fact"),
        ({"path": "item.name", "every": "people", "some": "people"}, "rule/one_of_keys"),
        ({"path": "item.name", "every": "site.use"}, "rule/not_a_list"),
        ({"path": "site.use", "hint": "x"}, "rule/unknown_key"),
        ({"path": "site.use", "words": {"en": "x"}}, "rule/missing_key"),
        ({"path": "site.use", "words": {"es": "x"}}, "rule/missing_key"),
        ({"path": "site.use", "words": {"en": "x", "es": "x", "fr": "x"}}, "rule/unknown_key"),
        ({"path": "site.use", "words": "x"}, "rule/expected_mapping"),
    ],
)
def test_an_ask_outside_the_form_is_refused(ask: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(record(ask))
    assert caught.value.wording_id == wording


def test_an_exemption_that_does_not_lie_in_an_item_holds_for_a_list_without_items() -> None:
    tank = {"fact": "mix.form", "is": "tank"}
    asks = {"every": "product.active_ingredients", "path": "item.percent"}
    for ingredients in ([], None):
        changes = {"mixes[0].products[0].active_ingredients": ingredients}
        assert outcome(record({**asks, "unless": tank}, judges="products"), changes=changes) == "met"
        assert outcome(record(asks, judges="products"), changes=changes) == "not_met"
        only = {"not": tank}
        assert outcome(record({**asks, "only": only}, judges="products"), changes=changes) == "met"


def test_an_exemption_that_lies_in_an_item_does_not_excuse_a_list_without_items() -> None:
    unnamed = {"fact": "item.by", "present": "no"}
    changes = {"weather.readings": []}
    assert outcome(record({**EVERY_SPEED, "unless": unnamed}), changes=changes) == "not_met"
    assert outcome(record({**EVERY_SPEED, "only": {"not": unnamed}}), changes=changes) == "not_met"


def test_what_is_there_and_cannot_be_worked_out_says_why() -> None:
    total = record({"path": "product.applied", "words": {"en": "total", "es": "total"}}, judges="products")
    found = finding(total, changes={"mixes[0].applied": {"value": "20", "unit": "lb"}})
    assert (found.outcome, found.about) == ("not_met", ("mixes[0].applied",))
    assert "total (20 lb and 15 gal cannot be set against each other)" in found.message.say("en")
    assert "total (20 lb y 15 gal no se pueden comparar)" in found.message.say("es")


OF_THE_PLACE = {
    "words": {"en": "the licence number", "es": "el número de licencia"},
    "some": "person.licences",
    "where": {"fact": "item.authority", "is": "us-wa"},
    "path": "item.number",
}
HERE = {"authority": "us-wa", "number": "CO-1"}
ELSEWHERE = {"authority": "us-or", "number": "OR-8"}


@pytest.mark.parametrize(
    ("licences", "expected", "about"),
    [
        ([ELSEWHERE, HERE], "met", "people[0].licences"),
        ([ELSEWHERE, {"authority": "us-wa"}], "not_met", "people[0].licences[1].number"),
        ([ELSEWHERE], "not_met", "people[0].licences"),
        ([], "not_met", "people[0].licences"),
        ([{"number": "OR-8"}], "cant_tell", "people[0].licences[0].authority"),
        ([{"number": "OR-8"}, {"authority": "us-wa"}], "cant_tell", "people[0].licences[0].authority"),
        ([{"kind": "applicator"}], "not_met", "people[0].licences"),
    ],
)
def test_only_items_of_which_it_is_so_are_asked(licences: Any, expected: str, about: str) -> None:
    found = finding(record(OF_THE_PLACE, judges="people"), changes={"people[0].licences": licences})
    assert (found.outcome, found.about) == (expected, (about,))
