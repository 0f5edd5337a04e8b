"""Kind limit: exact bounds, the worst value named."""

from typing import Any

import pytest

from compliance.rulebook.bounds import order
from compliance.rulebook.errors import RuleError
from shared.quantities import Quantity
from tests.compliance.rulebook.builders import WIND, check, finding, outcome, pack, rule


def wind(**keys: Any) -> dict[str, Any]:
    return rule(**{**WIND, **keys})


def speed(value: str, unit: str = "mph", reading: int = 0) -> dict[str, Any]:
    return {f"weather.readings[{reading}].wind_speed": {"value": value, "unit": unit}}


def second(value: str | None, at: str = "2026-09-14T09:40:00-07:00") -> dict[str, Any]:
    reading: dict[str, Any] = {"at": at}
    if value:
        reading["wind_speed"] = {"value": value, "unit": "mph"}
    return {"weather.readings[1]": reading}


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        ("10", "mph", "met"),
        ("10.000000001", "mph", "not_met"),
        ("16.09344", "km/h", "met"),  # 1 mile = 1.609344 km, NIST SP 811, appendix B
        ("16.093441", "km/h", "not_met"),
        ("4.4704", "m/s", "met"),  # 1 mph = 0.44704 m/s, NIST SP 811, appendix B
        ("4.470401", "m/s", "not_met"),
    ],
)
def test_a_limit_is_exact_in_every_unit(value: str, unit: str, expected: str) -> None:
    assert outcome(wind(), changes=speed(value, unit)) == expected


UNDER_WAY = {"record.result": None, "timing.finished_at": None, "timing.recorded_at": None}
WAITING = {**UNDER_WAY, "timing.started_at": None}


@pytest.mark.parametrize("so_far", [UNDER_WAY, WAITING], ids=["under way", "waiting"])
def test_a_crew_sees_in_time_that_it_must_stop_or_wait(so_far: dict[str, Any]) -> None:
    assert outcome(wind(), changes={**so_far, **speed("14")}) == "not_met"


@pytest.mark.parametrize("so_far", [UNDER_WAY, WAITING], ids=["under way", "waiting"])
def test_a_limit_is_not_met_before_the_end(so_far: dict[str, Any]) -> None:
    found = finding(wind(), changes=so_far)
    assert (found.outcome, found.to_do) == ("not_applicable", True)


def test_of_a_finished_treatment_without_a_finish_a_late_reading_cant_be_told() -> None:
    found = finding(wind(), changes={"timing.finished_at": None, **speed("14")})
    assert (found.outcome, found.about) == ("cant_tell", ("timing.finished_at",))


def test_a_breach_says_what_was_measured_what_is_allowed_and_what_to_do() -> None:
    found = finding(wind(), changes=speed("14"))
    assert found.message.say("en") == (
        "Wind was 14 mph; Example Act 1(a) allows 10 mph. Stop, wait and measure again."
    )
    assert found.message.say("es") == (
        "Viento: 14 mi/h; Example Act 1(a) permite 10 mi/h. Pare, espere y mida de nuevo."
    )
    assert found.as_json("en")["observed"] == {"value": "14", "unit": "mph"}
    assert found.as_json("en")["bound"] == {"value": "10", "unit": "mph"}
    assert found.about == ("weather.readings[0].wind_speed",)


@pytest.mark.parametrize(("first", "next_one", "worst"), [("11", "12", 1), ("9", "3", 0)])
def test_the_worst_of_several_readings_is_named(first: str, next_one: str, worst: int) -> None:
    found = finding(wind(), changes={**speed(first), **second(next_one)})
    assert found.about == (f"weather.readings[{worst}].wind_speed",)


def test_only_the_last_reading_counts_where_the_rule_says_so() -> None:
    assert outcome(wind(over="last"), changes={**speed("14"), **second("3")}) == "met"
    assert outcome(wind(over="every"), changes={**speed("14"), **second("3")}) == "not_met"


def test_a_missing_value_is_cant_tell_unless_another_breaks_the_limit() -> None:
    found = finding(wind(), changes=second(None))
    assert (found.outcome, found.about) == ("cant_tell", ("weather.readings[1].wind_speed",))
    assert outcome(wind(), changes={**speed("14"), **second(None)}) == "not_met"


def test_no_readings_are_cant_tell_for_the_limit() -> None:
    found = finding(wind(), changes={"weather.readings": []})
    assert (found.outcome, found.about) == ("cant_tell", ("weather.readings",))


def test_a_reading_without_its_time_is_cant_tell() -> None:
    assert finding(wind(), changes={"weather.readings[0].at": None}).about == ("weather.readings[0].at",)


@pytest.mark.parametrize(
    ("at", "expected"),
    [
        ("2026-09-14T08:42:00-07:00", "not_met"),
        ("2026-09-14T08:41:59-07:00", "met"),
        ("2026-09-14T09:47:00-07:00", "not_met"),
        ("2026-09-14T09:47:01-07:00", "met"),
        ("2026-09-14T16:47:00Z", "not_met"),
    ],
)
def test_a_reading_counts_from_thirty_minutes_before_the_start_to_the_finish(at: str, expected: str) -> None:
    assert outcome(wind(), changes=second("14", at)) == expected


def test_a_minimum_is_a_limit_too() -> None:
    low = wind(min="2 mph", max=None)
    assert outcome(low, changes=speed("2")) == "met"
    found = finding(low, changes=speed("1"))
    assert found.message.say("en").startswith("Wind was 1 mph; Example Act 1(a) asks for at least 2 mph.")
    assert outcome(low, changes={**speed("0"), "weather.readings[0].calm": True}) == "not_met"


def test_both_bounds_are_shown_together() -> None:
    found = finding(wind(min="2 mph"))
    assert found.as_json("en")["bound"] == {
        "min": {"value": "2", "unit": "mph"},
        "max": {"value": "10", "unit": "mph"},
    }
    assert "at least 2 mph, at most 10 mph" in found.message.say("en")


def test_coverage_is_judged_for_each_surface_with_its_own_amount() -> None:
    """14 gal on 1342 ft² are 1.0432... gal per 100 ft², by hand."""
    coverage = rule(kind="limit", quantity="coverage", judges="products")
    assert outcome({**coverage, "max": "1.0433 gal/(100 ft**2)"}) == "met"
    found = finding({**coverage, "max": "1.0432 gal/(100 ft**2)"})
    assert found.outcome == "not_met"
    assert found.as_json("en")["observed"] == {"value": "1.04322", "unit": "gal/(100 ft**2)"}
    assert found.about == ("mixes[0].surfaces[0].applied",)


def test_a_count_is_compared_with_a_count() -> None:
    often = rule(kind="limit", quantity="applications_per_year", judges="products", max="1")
    found = finding(often)
    assert (found.outcome, found.as_json("en")["observed"]) == ("met", "1")
    with pytest.raises(RuleError, match="is not a whole number"):
        pack({**often, "max": "1 gal"})


def test_where_nothing_can_be_measured_the_limit_does_not_apply() -> None:
    buffer = rule(kind="limit", quantity="buffer", min="25 ft")
    assert outcome(buffer) == "not_applicable"
    pond = {"site.features[2]": {"kind": "pond", "distance": {"value": "24", "unit": "ft"}}}
    assert outcome(buffer, changes=pond) == "not_met"


def test_a_dated_limit_holds_from_its_day() -> None:
    dated = wind(
        max=None,
        values={
            "2019-01-01": {"max": "15 mph", "cite": "Example Act (a)"},
            "2026-09-14": {"max": "10 mph", "cite": "Example Act (a), amended"},
            "2027-01-01": "expected",
        },
    )
    found = finding(dated, changes=speed("12"))
    assert (found.outcome, found.cite) == ("not_met", "Example Act (a), amended")
    assert outcome(dated, changes={**speed("12"), "site.time_zone": "Pacific/Honolulu"}) == "not_met"
    day_before, finish = "2026-09-13T09:00:00-07:00", "2026-09-14T12:00:00-07:00"
    earlier = {"timing": {"started_at": day_before, "finished_at": finish}}
    assert outcome(dated, changes={**speed("12"), **earlier}) == "met"


def test_a_rule_that_is_not_in_force_that_day_is_left_out() -> None:
    later = {"2026-09-15": {"max": "10 mph"}}
    assert check(wind(max=None, values=later)).limits == check(wind(until_="2026-09-14")).limits
    assert not [one for one in check(wind(from_="2026-09-15")).findings if one.pack == "xx"]


def test_on_an_unknown_day_a_dated_limit_cant_tell() -> None:
    no_start = {"timing": {"finished_at": "2026-09-14T09:47:00-07:00"}}
    found = finding(wind(from_="2020-01-01"), changes=no_start)
    assert (found.outcome, found.about) == ("cant_tell", ("timing.started_at",))


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"max": None}, "rule/some_of_keys"),
        ({"max": "10 gal"}, "rule/quantity"),
        ({"min": "11 mph"}, "rule/min_above_max"),
        ({"quantity": "noise"}, "rule/unknown_word"),
        ({"quantity": "dilution", "max": "5 percent"}, "rule/wrong_subject"),
        ({"over": "worst"}, "rule/unknown_word"),
        ({"maximum": "10 mph"}, "rule/unknown_key"),
        ({"values": {"2024-01-01": "expected"}}, "rule/no_values"),
        ({"values": {"2024-01-01": "10 mph"}}, "rule/expected_mapping"),
        ({"values": {"soon": {"max": "10 mph"}}}, "rule/not_a_day"),
        ({"values": {"2024-01-01": {"maximum": "10 mph"}}}, "rule/unknown_key"),
    ],
)
def test_a_limit_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(wind(**keys))
    assert caught.value.wording_id == wording


@pytest.mark.parametrize("other", [3, Quantity("3", "gal")])
def test_what_cannot_be_compared_is_an_error(other: Any) -> None:
    with pytest.raises(TypeError, match="compared"):
        order(Quantity("3", "mph"), other)


def test_a_bound_that_is_barely_broken_is_said_with_digits_enough_to_show_it() -> None:
    strong = rule(kind="limit", quantity="dilution", judges="products", max="12 percent")
    changes = {
        "mixes[0].products[0].amount": {"value": "1.200000001", "unit": "gal"},
        "mixes[0].diluent.amount": {"value": "8.8", "unit": "gal"},
    }
    found = finding(strong, changes=changes)
    assert found.outcome == "not_met"
    assert "was 12.00000001 %; Example Act 1(a) allows 12 %" in found.message.say("en")
    assert found.as_json("en")["observed"] == {"value": "12.00000001", "unit": "percent"}


def test_a_weight_against_a_volume_is_not_said_to_be_left_out() -> None:
    strong = rule(kind="limit", quantity="dilution", judges="products", max="12 percent")
    found = finding(strong, changes={"mixes[0].products[0].amount": {"value": "1.5", "unit": "lb"}})
    assert (found.outcome, found.about) == ("cant_tell", ("mixes[0].products[0].amount",))
    assert found.message.say("en") == (
        "Sample Moss Wash: Product in the mix: 1.5 lb and 13.6685 gal cannot be set against each other, so "
        "this cannot be told. Look at them again and enter what is right."
    )


def test_a_stored_bound_keeps_its_side_and_the_answer_in_json_is_the_quantity() -> None:
    found = finding(wind(), changes=speed("12"))
    bound = {"value": "10", "unit": "mph"}
    assert found.as_json("en")["bound"] == bound
    assert found.stored()["bound"] == {"min": None, "max": bound}
