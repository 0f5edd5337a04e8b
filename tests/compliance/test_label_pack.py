"""A label as a layer: its limits, sites, materials, interval, equipment and steps."""

from typing import Any

import pytest

from compliance.check import Check, check_document
from compliance.label_pack import label_packs
from records.document.context import read_context
from records.document.reader import read
from tests.compliance.patched import load, patched

LABEL = "mixes[0].products[0].label"


def check(changes: dict[str, Any]) -> Check:
    document = patched(load("facts/roof-in-september.json"), changes)
    context = read_context(load("facts/roof-in-september.context.json"))
    return check_document(read(document), context, packs=[])


def said(changes: dict[str, Any]) -> dict[str, tuple[str, str]]:
    """Outcome and level of each rule of the label."""
    found = [one for one in check(changes).findings if one.layer == "label"]
    return {one.rule.removeprefix("label/99999-12/"): (str(one.outcome), one.level) for one in found}


def test_a_label_is_read_as_one_rule_for_each_thing_that_it_says() -> None:
    rules = {
        "coverage",
        "days_between",
        "dilution",
        "gust_beside_wind",
        "hours_dry_after",
        "not_on",
        "ppe",
        "sites",
        "targets",
        "validity",
        "wind_speed",
    }
    found = said({})
    assert set(found) == rules
    assert found.pop("targets") == ("met", "advised")
    assert found.pop("gust_beside_wind")[1] == "advised"
    assert set(found.values()) == {("met", "required")}


def test_a_label_without_targets_makes_no_rule_of_them_and_one_without_days_asks_for_them() -> None:
    nothing = said({f"{LABEL}.valid_from": None, f"{LABEL}.targets": None})
    assert "targets" not in nothing
    assert nothing["validity"] == ("cant_tell", "advised")
    sticker = said({f"{LABEL}.valid_from": None, "mixes[0].products[0].kind": "adjuvant"})
    assert "validity" not in sticker


@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"weather.readings[0].wind_speed": {"value": "11", "unit": "mph"}}, "wind_speed"),
        ({"mixes[0].surfaces[0].applied": {"value": "17", "unit": "gal"}}, "coverage"),
        ({"mixes[0].products[0].amount": {"value": "2", "unit": "gal"}}, "dilution"),
        ({"weather.forecast.dry_until": "2026-09-14T13:46:59-07:00"}, "hours_dry_after"),
        ({"surfaces[0].material": "copper"}, "not_on"),
        ({f"{LABEL}.sites": ["walk"]}, "sites"),
        ({f"{LABEL}.protection": ["plants-rinsed"]}, "protection"),
        ({"people[0].ppe": ["gloves"]}, "ppe"),
    ],
)
def test_each_breach_of_the_label_is_found_at_level_required(changes: dict[str, Any], rule: str) -> None:
    assert said(changes)[rule] == ("not_met", "required")
    assert check(changes).outcome == "not_met"


@pytest.mark.parametrize("name", ["limits", "sites", "ppe", "protection", "not_on"])
def test_what_a_label_was_not_asked_for_cant_be_told_and_an_empty_list_says_none(name: str) -> None:
    assert said({f"{LABEL}.{name}": None})[f"{name}_stated"] == ("cant_tell", "required")
    as_none = {"sites": ("cant_tell", "required"), "not_on": ("cant_tell", "advised")}
    assert said({f"{LABEL}.{name}": []}).get(f"{name}_stated") == as_none.get(name)


def test_a_label_that_is_entered_without_sites_is_to_be_looked_at_again() -> None:
    (found,) = [one for one in check({f"{LABEL}.sites": []}).findings if one.rule.endswith("/sites_stated")]
    assert found.about == (f"{LABEL}.sites",)
    assert found.message.say("en") == (
        "Entered as none: Sites on the label. Look at the label once more and enter what it names."
    )
    assert check({f"{LABEL}.sites": []}).outcome == "cant_tell"
    assert "sites_stated" not in said({f"{LABEL}.sites": [], "mixes[0].products[0].kind": "adjuvant"})


def gusts(reading: dict[str, Any] | None, **label: Any) -> tuple[str, str] | None:
    gust = {"weather.readings[0].gust": reading}
    return said({**gust, **{f"{LABEL}.{name}": part for name, part in label.items()}}).get("gust_beside_wind")


def test_a_gust_above_the_limit_of_the_wind_is_said_as_advice_where_the_label_sets_none_for_gusts() -> None:
    assert gusts({"value": "10", "unit": "mph"}) == ("met", "advised")
    assert gusts({"value": "10.1", "unit": "mph"}) == ("not_met", "advised")
    assert gusts({"value": "16.1", "unit": "km/h"}) == ("not_met", "advised")
    assert gusts(None) == ("not_applicable", "advised")
    strong = check({"weather.readings[0].gust": {"value": "14", "unit": "mph"}})
    (found,) = [one for one in strong.findings if one.rule.endswith("/gust_beside_wind")]
    assert found.message.say("en") == (
        "A gust of 14 mph lay above 10 mph, the most that the label of Sample Moss Wash allows for the wind; "
        "it sets none for gusts. Stop, wait and measure again."
    )
    assert strong.outcome == check({}).outcome
    assert "gust" not in {limit.quantity for limit in strong.limits}


def test_a_label_that_bounds_gusts_or_no_wind_is_judged_by_what_it_says() -> None:
    wind = {"of": "wind_speed", "max": {"value": "10", "unit": "mph"}}
    own = {"of": "gust", "max": {"value": "15", "unit": "mph"}}
    assert gusts({"value": "14", "unit": "mph"}, limits=[wind, own]) is None
    assert gusts({"value": "14", "unit": "mph"}, limits=[]) is None


def test_a_pesticide_without_a_label_cant_be_told_and_another_product_is_let_be() -> None:
    assert said({LABEL: None}) == {"stated": ("cant_tell", "required")}
    assert said({LABEL: None, "mixes[0].products[0].kind": None}) == {"stated": ("cant_tell", "required")}
    assert said({LABEL: None, "mixes[0].products[0].kind": "adjuvant"}) == {}


def test_a_minimum_rate_is_advised_and_the_maximum_beside_it_required() -> None:
    both = {
        "of": "coverage",
        "min": {"value": "1.1", "unit": "gal/(100 ft**2)"},
        "max": {"value": "1.2", "unit": "gal/(100 ft**2)"},
    }
    found = said({f"{LABEL}.limits": [both]})
    assert found["coverage"] == ("met", "required")
    assert found["coverage_min"] == ("not_met", "advised")


def test_a_minimum_wind_bounds_the_wind() -> None:
    still = {"of": "wind_speed_min", "min": {"value": "5", "unit": "mph"}}
    assert said({f"{LABEL}.limits": [still]})["wind_speed_min"] == ("not_met", "required")
    (limit,) = check({f"{LABEL}.limits": [still]}).limits
    assert limit.quantity == "wind_speed"


def test_a_limit_without_a_bound_or_a_quantity_cant_be_told() -> None:
    halves = [{"of": "wind_speed"}, {"max": {"value": "5", "unit": "mph"}}]
    changes = {f"{LABEL}.limits": halves, "weather.readings[0].wind_speed": {"value": "40", "unit": "mph"}}
    found = said(changes)
    assert found["limit_1_stated"] == found["limit_2_stated"] == ("cant_tell", "required")
    assert "wind_speed" not in found
    one, other = (one for one in check(changes).findings if one.rule.startswith("label/99999-12/limit_"))
    assert one.about == (f"{LABEL}.limits[0].max", f"{LABEL}.limits[0].min")
    assert one.message.say("en") == (
        "Not filled in: Most, Least. Read it on the container's label and enter it with the product's "
        "data."
    )
    assert other.about == (f"{LABEL}.limits[1].of",)
    assert check(changes).outcome == "cant_tell"


@pytest.mark.parametrize(
    ("days", "about"),
    [({"valid_to": "2026-09-13"}, "valid_to"), ({"valid_from": "2026-09-15"}, "valid_from")],
)
def test_a_label_that_was_not_in_force_on_the_day_is_a_breach(days: dict[str, str], about: str) -> None:
    found = check({f"{LABEL}.{name}": day for name, day in days.items()})
    (validity,) = [one for one in found.findings if one.rule.endswith("/validity")]
    assert (validity.outcome, validity.level, validity.about) == (
        "not_met",
        "required",
        (f"{LABEL}.{about}",),
    )
    assert found.outcome == "not_met"


def test_a_count_of_treatments_is_a_limit() -> None:
    once = [{"of": "applications_per_year", "max": "0"}]
    assert said({f"{LABEL}.limits": once})["applications_per_year"] == ("not_met", "required")


def test_the_same_label_in_two_mixes_binds_the_people_once_and_the_products_each() -> None:
    document = load("facts/roof-in-september.json")
    found = check({"mixes[1]": document["mixes"][0], "people[0].ppe": []}).findings
    assert len([one for one in found if one.rule == "label/99999-12/ppe"]) == 1
    assert len([one for one in found if one.rule == "label/99999-12/dilution"]) == 2


def test_what_is_not_stated_can_only_be_cant_tell_where_something_was_applied() -> None:
    bare = read(patched(load("facts/roof-in-september.json"), {LABEL: None}))
    (rule,) = label_packs(bare)[0].rules
    assert rule.possible() == {"cant_tell", "not_applicable"}


def test_a_maximum_alone_gives_no_rule_for_a_minimum() -> None:
    assert "coverage_min" not in said({})
    least = [{"of": "coverage", "min": {"value": "0.5", "unit": "gal/(100 ft**2)"}}]
    assert "coverage" not in said({f"{LABEL}.limits": least})


def test_a_label_is_cited_by_name_and_version() -> None:
    assert {one.cite for one in check({}).findings if one.layer == "label"} == {
        "label of Sample Moss Wash, 2025-03"
    }
    bare = {f"{LABEL}.version": None, "mixes[0].products[0].name": None}
    assert "label of 99999-12, version not stated" in {one.cite for one in check(bare).findings}
    nameless = {"mixes[0].products[0].name": None, "mixes[0].products[0].registration_number": None}
    assert "label/unnamed/wind_speed" in {one.rule for one in check(nameless).findings}


def test_the_same_label_in_the_same_place_is_made_into_a_pack_once() -> None:
    roof = load("facts/roof-in-september.json")
    (first,), (again,) = (label_packs(read(roof)) for _ in range(2))
    (changed,) = label_packs(read(patched(roof, {f"{LABEL}.version": "2026-01"})))
    (renamed,) = label_packs(read(patched(roof, {"mixes[0].products[0].name": "Another name"})))
    (restocked,) = label_packs(read(patched(roof, {"mixes[0].products[0].lot": "L-9"})))
    assert first is again is restocked
    assert len({id(one) for one in (first, changed, renamed)}) == 3


LEFT = "mixes[0].left_over"
LAWN = {"name": "Front lawn", "kind": "lawn", "material": "grass"}


def test_what_was_left_over_and_sprayed_on_another_surface_is_a_treatment_of_it() -> None:
    sprayed = {
        "amount": {"value": "1", "unit": "gal"},
        "disposition": "applied-to-labelled-site",
        "surface": "Front lawn",
    }
    assert said({"surfaces[1]": LAWN, LEFT: sprayed})["sites"] == ("not_met", "required")
    same = {**sprayed, "surface": "Main roof, north slope"}
    assert said({"surfaces[1]": LAWN, LEFT: same})["sites"] == ("met", "required")


def test_where_it_is_not_said_on_which_surface_what_was_left_over_went_cant_be_told() -> None:
    changes = {LEFT: {"amount": {"value": "1", "unit": "gal"}, "disposition": "applied-to-labelled-site"}}
    (found,) = [one for one in check(changes).findings if one.rule == "label/99999-12/sites"]
    assert (found.outcome, found.about) == ("cant_tell", (f"{LEFT}.surface",))


def test_a_material_that_names_what_is_not_there_cant_be_told() -> None:
    for material in ("asphalt shingle, no copper anywhere", "tejas sin cobre", "not copper", "ohne Kupfer"):
        assert said({"surfaces[0].material": material})["not_on"] == ("cant_tell", "required")
    assert said({"surfaces[0].material": "No. 2 copper sheet"})["not_on"] == ("not_met", "required")


def test_a_label_asks_nothing_of_a_day_on_which_nothing_was_applied() -> None:
    """The mix was planned, and stays in the record as it was."""
    found = said({"record.result": "stood-down", "mixes[0].applied": None})
    assert {outcome for outcome, _level in found.values()} == {"not_applicable"}
