"""What was used before: days since the last treatment, and treatments of the year."""

from typing import Any

import pytest

from tests.compliance.facts_of import OTHER, earlier, facts, measured, shown
from tests.compliance.patched import load, patched

SURFACE = "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b77"


NAMELESS = {"surfaces[0].name": None, "surfaces[0].id": SURFACE, "mixes[0].surfaces[0].surface": SURFACE}


def test_treatments_of_the_calendar_year_are_counted_with_this_one() -> None:
    context = {"earlier": [earlier("2026-08-01"), earlier("2026-01-01"), earlier("2025-12-31")]}
    assert shown(measured("applications_per_year", None, None, context)) == [3]
    assert shown(measured("applications_per_year")) == [1]
    assert measured("applications_per_year", None, None, {"earlier": None})[0].lacks == ("context.earlier",)


def test_what_may_have_been_a_use_counts_in_its_own_year_only() -> None:
    number = "mixes[0].products[0].registration_number"
    for year, lacks in (("2025", ()), ("2026", (f"context.earlier[0].{number}",))):
        context = {"earlier": [earlier(f"{year}-08-01", **{number: None})]}
        for name, unit in (("applications_per_year", None), ("per_year", "gal/acre")):
            assert measured(name, unit, None, context)[0].lacks == lacks


def test_an_earlier_use_on_an_unknown_day_is_named() -> None:
    undated = patched(load("facts/roof-in-september.json"), {"timing": None, "record.id": OTHER})
    found = measured("days_between", "day", None, {"earlier": [undated]})
    assert found[0].lacks == ("context.earlier[0].timing.started_at",)


@pytest.mark.parametrize(
    ("changes", "lacking"),
    [
        ({"mixes": None}, "mixes"),
        ({"mixes[0].products": None}, "mixes[0].products"),
        ({"mixes[0].products[0].registration_number": None}, "mixes[0].products[0].registration_number"),
        ({"mixes[0].surfaces": None}, "mixes[0].surfaces"),
        ({"mixes[0].surfaces[0].surface": None}, "mixes[0].surfaces[0].surface"),
        ({"surfaces": None, "mixes[0].surfaces": None}, "surfaces"),
        (NAMELESS, "surfaces[0].name"),
    ],
)
def test_an_earlier_treatment_that_may_have_used_the_product_here_is_named(
    changes: dict[str, Any], lacking: str
) -> None:
    found = measured("days_between", "day", None, {"earlier": [earlier("2026-09-01", **changes)]})
    assert found[0].lacks == (f"context.earlier[0].{lacking}",)


@pytest.mark.parametrize(
    "changes",
    [
        {"mixes": None, "record.result": "stood-down"},
        {"mixes[0].products[0].registration_number": None, "mixes[0].products[0].kind": "adjuvant"},
    ],
)
def test_an_earlier_treatment_that_can_not_have_used_it_does_not_count(changes: dict[str, Any]) -> None:
    assert measured("days_between", "day", None, {"earlier": [earlier("2026-09-01", **changes)]}) == ()


@pytest.mark.parametrize("number", ["99999 - 12", "99999–12", "EPA Reg. No. 99999-12"])
@pytest.mark.parametrize("name", ["main roof,  North slope", "Main roof, north slope "])
def test_an_earlier_use_counts_however_number_and_surface_were_typed(number: str, name: str) -> None:
    typed = {
        "mixes[0].products[0].registration_number": number,
        "surfaces[0].name": name,
        "mixes[0].surfaces[0].surface": name,
    }
    context = {"earlier": [earlier("2026-09-01", **typed)]}
    assert shown(measured("days_between", "day", None, context)) == ["13"]
    assert shown(measured("applications_per_year", None, None, context)) == [2]
    assert shown(measured("site_applications_per_year", None, None, context)) == [2]


@pytest.mark.parametrize("number", ["9999-912", "99999-12-1", "99999-13"])
def test_another_number_is_another_product_however_alike_its_digits(number: str) -> None:
    typed = {"mixes[0].products[0].registration_number": number}
    assert measured("days_between", "day", None, {"earlier": [earlier("2026-09-01", **typed)]}) == ()


@pytest.mark.parametrize("number", ["n/a", "None", "-", " – ", "0", "unknown", "EPA Reg. No."])
def test_what_stands_in_for_a_registration_number_is_none(number: str) -> None:
    path = "mixes[0].products[0].registration_number"
    line = facts({path: number}).subjects["products"].subjects[0].roots["product"]
    assert "registration_number" not in line.members
    found = measured("days_between", "day", {path: number}, {"earlier": [earlier("2026-09-01")]})
    assert found[0].lacks == (path,)


STOOD_DOWN = {
    "record.result": "stood-down",
    "mixes[0].applied": None,
    "mixes[0].surfaces[0].applied": None,
}


def test_what_was_planned_for_a_day_stood_down_is_no_use():
    context = {"earlier": [earlier("2026-09-01", **STOOD_DOWN)]}
    assert measured("days_between", "day", None, context) == ()
    assert shown(measured("applications_per_year", None, None, context)) == [1]
    assert shown(measured("site_applications_per_year", None, None, context)) == [1]


def test_a_day_said_to_be_stood_down_on_which_something_was_applied_is_a_use():
    sprayed = STOOD_DOWN | {"mixes[0].applied": {"value": "3", "unit": "gal"}}
    context = {"earlier": [earlier("2026-09-01", **sprayed)]}
    assert shown(measured("days_between", "day", None, context)) == ["13"]


def test_before_the_first_treatment_no_number_is_needed_to_know_that_none_came_before():
    number = {"mixes[0].products[0].registration_number": None}
    assert measured("days_between", "day", number, {"earlier": []}) == ()
    lacking = measured("days_between", "day", number, {"earlier": [earlier("2026-09-01")]})
    assert lacking[0].lacks == ("mixes[0].products[0].registration_number",)


def test_a_later_treatment_is_not_an_earlier_one() -> None:
    assert measured("days_between", "day", None, {"earlier": [earlier("2026-09-20")]}) == ()


def test_a_record_and_its_correction_are_one_earlier_treatment() -> None:
    corrected = {"record.version": 2, "record.replaces": {"version": 1, "digest": "sha256:" + "ab" * 32}}
    last = earlier("2026-05-02", **corrected, **{"record.reason": "the day"})
    for context in ({"earlier": [last, earlier("2026-05-01")]}, {"earlier": [earlier("2026-05-01"), last]}):
        assert shown(measured("applications_per_year", None, None, context)) == [2]
        assert shown(measured("site_applications_per_year", None, None, context)) == [2]
        assert measured("per_year", "gal/acre", None, context) == measured(
            "per_year", "gal/acre", None, {"earlier": [last]}
        )
        assert shown(measured("days_between", "day", None, context)) == ["135"]


def test_a_surface_of_the_same_name_at_another_address_may_be_another() -> None:
    context = {"earlier": [earlier("2026-09-01", **{"site.address.line1": "77 Gull Road"})]}
    (found,) = measured("days_between", "day", None, context)
    assert (found.value, found.lacks) == (None, ("context.earlier[0].surfaces[0].id",))
    (on_site,) = measured("site_applications_per_year", None, None, context)
    assert (on_site.value, on_site.lacks) == (None, ("context.earlier[0].site.id",))


def test_an_earlier_treatment_without_a_result_or_any_trace_of_work_may_have_been_a_plan() -> None:
    nothing = {
        "record.result": None,
        "mixes[0].applied": None,
        "mixes[0].surfaces[0].applied": None,
        "mixes[0].loads": [],
        "people[0].tasks": [],
    }
    context = {"earlier": [earlier("2026-09-01", **nothing)]}
    for name in ("days_between", "site_applications_per_year"):
        (found,) = measured(name, None, None, context)
        assert (found.value, found.lacks) == (None, ("context.earlier[0].record.result",))
