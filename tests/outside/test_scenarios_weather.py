"""Whole visits and the weather on them: what had to be measured, when, and how much was too much.

Each test names its law; how the text was read stands in the sources of the pack that states it. The label is
invented, so that its limit is the label's own: it binds as 7 U.S.C. 136j(a)(2)(G) makes labels bind.
"""

import pytest

from tests.compliance.checked import by_rule
from tests.outside.scenario import outcomes, said, visit

LABEL_WIND = "label/99999-12/wind_speed"
READING = "weather.readings[0]"


def wind(value, unit):
    return {f"{READING}.wind_speed": {"value": value, "unit": unit}}


@pytest.mark.parametrize(
    ("value", "unit", "outcome"),
    [
        ("10", "mph", "met"),
        ("10.1", "mph", "not_met"),
        ("16.09344", "km/h", "met"),
        ("16.09345", "km/h", "not_met"),
        ("4.4704", "m/s", "met"),
        ("4.4705", "m/s", "not_met"),
        ("8.68", "knot", "met"),
        ("8.7", "knot", "not_met"),
    ],
)
def test_wind_at_the_labels_limit_is_within_it_and_one_digit_over_is_not(value, unit, outcome):
    """7 U.S.C. 136j(a)(2)(G) (from memory): use as the label says, here at most 10 mph. 10 mph are exactly
    16.09344 km/h and 4.4704 m/s (NIST SP 811, B.8: 1 mi = 1.609344 km); a knot is 1.852 km/h."""
    answer = visit("roof-in-september", wind(value, unit))
    finding = said(answer, LABEL_WIND)
    assert (finding["outcome"], finding["level"]) == (outcome, "required")
    assert answer["outcome"] == outcome
    assert finding["cite"] == "label of Sample Moss Wash, 2025-03"


def test_a_wind_above_the_limit_is_said_in_the_units_in_which_it_was_measured():
    """7 U.S.C. 136j(a)(2)(G) (from memory)."""
    finding = said(visit("roof-in-september", wind("14", "knot")), LABEL_WIND)
    assert finding["observed"] == {"value": "14", "unit": "knot"}
    assert finding["bound"] == {"value": "10", "unit": "mph"}
    assert finding["message"] == (
        "Wind was 14 knots; the label of Sample Moss Wash allows 10 mph. Stop, wait and measure again."
    )


@pytest.mark.parametrize(
    ("second", "outcome"), [("9", "met"), ("12", "not_met")], ids=["calmer later", "rising later"]
)
def test_the_worst_reading_decides_and_not_the_first(second, outcome):
    """7 U.S.C. 136j(a)(2)(G) (from memory): the label's limit holds throughout the application."""
    later = {
        "at": "2026-09-14T09:40:00-07:00",
        "calm": False,
        "wind_from": {"value": "225", "unit": "degree"},
        "wind_speed": {"value": second, "unit": "mph"},
        "temperature": {"value": "63", "unit": "degF"},
    }
    finding = said(visit("roof-in-september", {"weather.readings[1]": later}), LABEL_WIND)
    assert finding["outcome"] == outcome
    if outcome == "not_met":
        assert finding["about"] == ["weather.readings[1].wind_speed"]


@pytest.mark.parametrize(
    ("at", "record", "during", "limit"),
    [
        ("2026-09-14T09:12:00-07:00", "met", "met", "met"),
        ("2026-09-14T09:11:00-07:00", "met", "not_met", "met"),
        ("2026-09-14T08:42:00-07:00", "met", "not_met", "met"),
        ("2026-09-14T08:41:00-07:00", "not_met", "not_met", "cant_tell"),
        ("2026-09-14T09:47:00-07:00", "met", "met", "met"),
        ("2026-09-14T09:48:00-07:00", "not_met", "not_met", "cant_tell"),
    ],
    ids=["at the start", "before the start", "half an hour before", "a minute more", "at the finish", "after"],
)
def test_a_reading_from_the_half_hour_before_counts_and_one_during_the_work_is_advised(
    at, record, during, limit
):
    """RCW 17.21.100(1)(i): the wind during the time the pesticide was applied. The half hour is our reading."""
    answer = visit("roof-in-september", {f"{READING}.at": at})
    assert said(answer, "us-wa/record/wind")["outcome"] == record
    advised = said(answer, "us-wa/record/wind-during")
    assert (advised["outcome"], advised["level"]) == (during, "advised")
    assert said(answer, LABEL_WIND)["outcome"] == limit


def test_calm_air_has_no_direction_and_none_is_missing():
    """RCW 17.21.100(1)(i): direction and estimated velocity of the wind. Beaufort force 0: none to state."""
    calm = {f"{READING}.calm": True, f"{READING}.wind_from": None, f"{READING}.wind_speed": None}
    answer = visit("roof-in-september", calm)
    assert said(answer, "us-wa/record/wind")["outcome"] == "met"
    assert said(answer, LABEL_WIND)["outcome"] == "met"
    assert answer["outcome"] == "met"


def test_air_of_which_nobody_said_that_it_was_calm_lacks_its_wind():
    """RCW 17.21.100(1)(i)."""
    answer = visit("roof-in-september", {f"{READING}.wind_from": None, f"{READING}.wind_speed": None})
    assert said(answer, "us-wa/record/wind")["outcome"] == "not_met"
    assert said(answer, LABEL_WIND)["outcome"] == "cant_tell"


def test_calm_air_is_too_little_for_a_label_that_asks_for_some_wind():
    """7 U.S.C. 136j(a)(2)(G) (from memory). A label may ask for moving air, against inversions (common
    practice, no source)."""
    some_wind = {
        "of": "wind_speed",
        "min": {"value": "3", "unit": "mph"},
        "max": {"value": "10", "unit": "mph"},
    }
    calm = {f"{READING}.calm": True, f"{READING}.wind_from": None, f"{READING}.wind_speed": None}
    answer = visit("roof-in-september", {**calm, "mixes[0].products[0].label.limits[0]": some_wind})
    assert said(answer, LABEL_WIND)["outcome"] == "not_met"


@pytest.mark.parametrize(("value", "outcome"), [("10", "met"), ("10.1", "not_met")], ids=["10 mph", "10.1 mph"])
def test_idahos_ten_miles_an_hour_are_advice_until_somebody_reads_the_rule(value, outcome):
    """IDAPA 02.03.03.400, wind: restated by newspapers only; whether it binds work on structures is unknown."""
    allowing = {"mixes[0].products[0].label.limits[0].max": {"value": "15", "unit": "mph"}}
    answer = visit("roof-in-idaho", {**wind(value, "mph"), **allowing})
    finding = said(answer, "us-id/limit/wind")
    assert (finding["outcome"], finding["level"], finding["text"]) == (outcome, "advised", "restated")
    assert answer["outcome"] == "met"


@pytest.mark.parametrize(
    ("kind", "outcome"), [("roof", "not_applicable"), ("wall", "not_applicable"), ("walk", "not_met")]
)
def test_maryland_asks_for_no_wind_at_a_structure_but_for_that_of_a_walk(kind, outcome):
    """COMAR 15.05.01.12 L: not for an application in, or within three feet of, a structure."""
    answer = visit("roof-in-maryland", {"surfaces[0].kind": kind, "weather.readings": []})
    assert said(answer, "us-md/record/wind")["outcome"] == outcome


@pytest.mark.parametrize(("method", "outcome"), [("powered-sprayer", "not_met"), ("brush", "not_applicable")])
def test_new_south_wales_asks_for_the_wind_where_spray_gear_is_used(method, outcome):
    """Pesticides Regulation 2017 (NSW), cl 36(1)(h): outdoors by means of spray equipment."""
    answer = visit("roof-in-new-south-wales", {"equipment[0].method": method, "weather.readings": []})
    assert said(answer, "au-nsw/record/wind")["outcome"] == outcome


def test_washington_asks_for_no_wind_within_a_structure():
    """RCW 17.21.100(1)(i): not for applications within structures."""
    answer = visit("roof-in-september", {"site.indoors": True, "weather.readings": []})
    assert said(answer, "us-wa/record/wind")["outcome"] == "not_applicable"


def test_oregons_statute_asks_for_no_weather_at_all():
    """ORS 634.146(1)(a) to (i): neither wind nor temperature stand in the list."""
    answer = visit("roof-in-oregon", {"weather.readings": []})
    assert outcomes(answer, "us-or/record/") <= {"met", "not_applicable"}


@pytest.mark.parametrize(
    ("dry_until", "outcome"),
    [("2026-09-14T13:47:00-07:00", "met"), ("2026-09-14T13:46:00-07:00", "not_met")],
    ids=["4 hours dry", "a minute less"],
)
def test_the_hours_that_the_label_wants_dry_are_counted_from_the_finish(dry_until, outcome):
    """7 U.S.C. 136j(a)(2)(G) (from memory): the label asks for 4 hours."""
    answer = visit("roof-in-september", {"weather.forecast.dry_until": dry_until})
    assert said(answer, "label/99999-12/hours_dry_after")["outcome"] == outcome


def test_a_day_stood_down_for_wind_is_evidence_of_care_and_no_breach():
    """RCW 17.21.100(1) binds who applies pesticides; nothing was applied, though the wind was measured."""
    answer = visit("stood-down-for-wind")
    assert "not_met" not in {finding["outcome"] for finding in answer["findings"]}
    assert outcomes(answer, "us-wa/") == {"not_applicable"}
    assert said(answer, "everywhere/stood-down/why")["outcome"] == "met"
    assert said(answer, "everywhere/stood-down/nothing-done")["outcome"] == "met"


def test_a_day_stood_down_does_not_hide_that_something_was_sprayed():
    """RCW 17.21.150(6), (7): false or missing records are violations."""
    sprayed = {"people": [{"name": "R. Osei", "role": "applicator", "tasks": ["sprayed"]}]}
    answer = visit("stood-down-for-wind", sprayed)
    finding = said(answer, "everywhere/stood-down/nothing-done")
    assert (finding["outcome"], finding["level"]) == ("not_met", "required")
    assert answer["outcome"] == "not_met"


def test_a_reading_that_is_not_there_is_missing_from_the_record_and_leaves_the_limit_open():
    """RCW 17.21.100(1)(i); 7 U.S.C. 136j(a)(2)(G) (from memory)."""
    answer = visit("roof-in-september", {"weather.readings": []})
    assert said(answer, "us-wa/record/wind")["outcome"] == "not_met"
    assert said(answer, "us-wa/record/temperature")["outcome"] == "not_met"
    assert [one["outcome"] for one in by_rule(answer)[LABEL_WIND]] == ["cant_tell"]
