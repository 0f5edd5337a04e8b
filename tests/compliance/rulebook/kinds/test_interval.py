"""Kind interval: days between treatments, season, hours of the day."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from shared.quantities import Quantity
from tests.compliance.patched import load, patched
from tests.compliance.rulebook.builders import check, finding, outcome, pack, rule

BETWEEN = rule(kind="interval", judges="products", between={"min": "30 day"})
HOURS = rule(kind="interval", hours={"from": "09:00", "to": "19:00"})


def season(start: str, end: str) -> dict[str, Any]:
    return rule(kind="interval", season={"from": start, "to": end})


def earlier(day: str, **changes: Any) -> dict[str, Any]:
    times = {
        "timing": {"started_at": f"{day}T09:00:00-07:00"},
        "record.id": "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b99",
    }
    return {"earlier": [patched(load("facts/roof-in-september.json"), {**times, **changes})]}


@pytest.mark.parametrize(("day", "expected"), [("2026-08-15", "met"), ("2026-08-16", "not_met")])
def test_thirty_days_between_treatments_are_counted_in_local_days(day: str, expected: str) -> None:
    assert outcome(BETWEEN, context=earlier(day)) == expected


def test_a_treatment_too_soon_says_how_long_it_was() -> None:
    found = finding(BETWEEN, context=earlier("2026-08-20"))
    assert found.message.say("en") == (
        "Sample Moss Wash: 25 days since the last treatment of this surface; Example Act 1(a) asks for at "
        "least 30 days. Put it off to a later day."
    )
    assert found.as_json("en")["observed"] == {"value": "25", "unit": "day"}


def test_an_interval_longer_than_the_labels_is_the_limit_in_force() -> None:
    longer = {**BETWEEN, "between": {"min": "40 day"}}
    (limit,) = [one for one in check(longer).limits if one.quantity == "days_between"]
    assert (limit.rule, limit.layer, limit.min) == ("xx/rule", "law", Quantity("40", "day"))


def test_nothing_earlier_is_knowledge_and_nothing_said_is_not() -> None:
    assert outcome(BETWEEN, context={"earlier": []}) == "met"
    found = finding(BETWEEN, context={"earlier": None})
    assert (found.outcome, found.about) == ("cant_tell", ("context.earlier",))


@pytest.mark.parametrize(
    "changes",
    [
        {"mixes[0].products[0].registration_number": "99999-13"},
        {"surfaces[0].name": "South slope", "mixes[0].surfaces[0].surface": "South slope"},
        {"record.id": "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b11"},
    ],
    ids=["another product", "another surface", "the record itself"],
)
def test_what_is_not_an_earlier_use_does_not_count(changes: dict[str, Any]) -> None:
    assert outcome(BETWEEN, context=earlier("2026-09-01", **changes)) == "met"


def test_surfaces_are_the_same_by_id_before_name() -> None:
    one, other = "11111111-1111-4111-8111-111111111111", "22222222-2222-4222-8222-222222222222"
    renamed = {
        "surfaces[0].id": one,
        "surfaces[0].name": "North",
        "mixes[0].surfaces[0].surface": "North",
    }
    same = earlier("2026-09-01", **renamed)
    assert outcome(BETWEEN, context=same, changes={"surfaces[0].id": one}) == "not_met"
    assert outcome(BETWEEN, context=same, changes={"surfaces[0].id": other}) == "met"


def test_a_longest_time_between_can_be_set_too() -> None:
    longest = rule(kind="interval", judges="products", between={"max": "20 day"})
    assert outcome(longest, context=earlier("2026-08-25")) == "met"
    assert outcome(longest, context=earlier("2026-08-24")) == "not_met"


@pytest.mark.parametrize(
    ("start", "end", "expected"),
    [
        ("03-01", "10-31", "met"),
        ("09-14", "09-14", "met"),
        ("09-15", "10-31", "not_met"),
        ("03-01", "09-13", "not_met"),
        ("11-01", "03-31", "not_met"),
        ("09-01", "03-31", "met"),
        ("11-01", "09-14", "met"),
    ],
)
def test_a_season_may_run_over_the_new_year_and_both_its_days_count(
    start: str, end: str, expected: str
) -> None:
    assert outcome(season(start, end)) == expected


def test_a_season_on_an_unknown_day_cant_tell() -> None:
    changes = {"timing": {"finished_at": "2026-09-14T09:47:00-07:00"}}
    assert finding(season("03-01", "10-31"), changes=changes).about == ("timing.started_at",)


@pytest.mark.parametrize(
    ("start", "finish", "expected"),
    [
        ("09:00:00-07:00", "19:00:00-07:00", "met"),
        ("08:59:00-07:00", "10:00:00-07:00", "not_met"),
        ("09:00:00-07:00", "19:01:00-07:00", "not_met"),
        ("16:00:00+00:00", "17:00:00+00:00", "met"),
    ],
)
def test_hours_are_those_of_the_sites_clock(start: str, finish: str, expected: str) -> None:
    changes = {"timing.started_at": f"2026-09-14T{start}", "timing.finished_at": f"2026-09-14T{finish}"}
    assert outcome(HOURS, changes=changes) == expected


def test_hours_with_a_missing_end_cant_tell_unless_the_other_breaks_them() -> None:
    assert finding(HOURS, changes={"timing.finished_at": None}).about == ("timing.finished_at",)
    early = {"timing.started_at": "2026-09-14T05:00:00-07:00", "timing.finished_at": None}
    assert outcome(HOURS, changes=early) == "not_met"


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({}, "rule/one_of_keys"),
        ({"between": {"min": "30 day"}}, "rule/wrong_subject"),
        ({"season": {"from": "13-01", "to": "10-31"}}, "rule/not_a_month_day"),
        ({"season": {"from": "03-01"}}, "rule/missing_key"),
        ({"hours": {"from": "7", "to": "19:00"}}, "rule/not_a_clock_time"),
        ({"hours": {"from": "19:00", "to": "07:00"}}, "rule/backwards"),
        ({"hours": {"from": "07:00", "to": "19:00", "zone": "x"}}, "rule/unknown_key"),
    ],
)
def test_an_interval_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(rule(kind="interval", **keys))
    assert caught.value.wording_id == wording


UNNUMBERED = {"mixes[0].products[0].registration_number": None}


def history(*treatments: dict[str, Any]) -> dict[str, Any]:
    return {"earlier": [one for treatment in treatments for one in treatment["earlier"]]}


@pytest.mark.parametrize(
    ("day", "expected"), [("2024-10-01", "met"), ("2026-08-15", "met"), ("2026-08-16", "cant_tell")]
)
def test_a_product_without_its_number_counts_only_if_it_was_used_within_the_bound(
    day: str, expected: str
) -> None:
    found = finding(BETWEEN, context=earlier(day, **UNNUMBERED))
    assert found.outcome == expected
    assert (expected == "met") or found.about == (
        "context.earlier[0].mixes[0].products[0].registration_number",
    )


def test_a_treatment_too_soon_stays_so_whatever_else_was_used() -> None:
    for other in ("2026-09-10", "2026-01-01"):
        both = history(earlier(other, **UNNUMBERED), earlier("2026-08-20"))
        assert finding(BETWEEN, context=both).as_json("en")["observed"] == {"value": "25", "unit": "day"}


def test_only_the_treatment_that_could_change_it_is_named() -> None:
    late, early = earlier("2026-09-10", **UNNUMBERED), earlier("2026-08-01", **UNNUMBERED)
    found = finding(BETWEEN, context=history(late, early, earlier("2026-07-01")))
    assert found.about == ("context.earlier[0].mixes[0].products[0].registration_number",)


def test_a_longest_time_between_may_be_kept_by_a_treatment_that_may_have_been_one() -> None:
    longest = rule(kind="interval", judges="products", between={"max": "20 day"})
    late = history(earlier("2026-09-01", **UNNUMBERED), earlier("2026-08-01"))
    too_late = history(earlier("2026-08-20", **UNNUMBERED), earlier("2026-08-01"))
    assert (outcome(longest, context=late), outcome(longest, context=too_late)) == ("cant_tell", "not_met")
