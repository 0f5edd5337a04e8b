"""Kind `cumulative`: totals of a calendar year, worked by hand.

The roof of 14 September 2026 had 14 gal of a mix of 1.5 gal in 15 gal: 1.4 gal of product on 1342
square feet.
"""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from shared.quantities import Quantity
from tests.compliance.patched import load, patched
from tests.compliance.rulebook.builders import check, finding, outcome, pack, rule

LINE = "mixes[0].products[0]"


def cumulative(
    total: str = "product", per: str = "site", most: str = "4.2 gal", **keys: Any
) -> dict[str, Any]:
    base = {"id": "xx/total", "kind": "cumulative", "stage": "after", "judges": "products"}
    return rule(**{**base, "total": total, "per": per, "max": most, **keys})


def earlier(*days: str, **changes: Any) -> dict[str, Any]:
    """Earlier treatments like this one, on these days, each a record of its own."""
    found = []
    for number, day in enumerate(days):
        changed = {
            "record.id": f"5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2c{number:02}",
            "timing": {"started_at": f"{day}T09:00:00-08:00"},
            **changes,
        }
        found.append(patched(load("facts/roof-in-september.json"), changed))
    return {"earlier": found}


@pytest.mark.parametrize(
    ("most", "expected"), [("4.2 gal", "met"), ("4.199999999 gal", "not_met"), ("33.6 pt", "met")]
)
def test_product_on_a_site_adds_up_over_the_calendar_year(most: str, expected: str) -> None:
    """Three times 1.4 gal are 4.2 gal, 33.6 pints; the treatment of last December does not count."""
    context = earlier("2026-06-01", "2026-01-01", "2025-12-31")
    assert outcome(cumulative(most=most), context=context) == expected


def test_a_total_that_is_too_high_is_told_with_its_bound_and_records() -> None:
    found = finding(cumulative(most="2 gal"), context=earlier("2026-06-01"))
    assert found.message.say("en").startswith(
        "Sample Moss Wash: Product on the site this year: 2.8 gal with this treatment; Example Act 1(a) asks "
        "for at most 2 gal in a calendar year."
    )
    assert found.about == ("timing.started_at", "context.earlier[0]")


def test_other_surfaces_of_the_site_count_but_other_products_and_this_record_do_not() -> None:
    elsewhere = earlier("2026-06-01", **{"surfaces[0].name": "Walk", "mixes[0].surfaces": None})
    assert outcome(cumulative(most="2 gal"), context=elsewhere) == "not_met"
    other = earlier("2026-06-01", **{f"{LINE}.registration_number": "99999-1"})
    assert outcome(cumulative(most="2 gal"), context=other) == "met"
    itself = earlier("2026-06-01", **{"record.id": "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b11"})
    mine = {"record.id": "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b11"}
    assert outcome(cumulative(most="2 gal"), changes=mine, context=itself) == "met"


def test_the_most_in_a_year_is_among_the_limits_in_force() -> None:
    limits = [one for one in check(cumulative(most="9 gal")).limits if one.quantity == "site_per_year"]
    assert [(one.subject, one.max, one.layer) for one in limits] == [
        ("mixes[0].products[0]", Quantity("9", "gal"), "law")
    ]


@pytest.mark.parametrize(("most", "expected"), [("2", "met"), ("1", "not_met")])
def test_treatments_of_a_site_are_counted(most: str, expected: str) -> None:
    assert outcome(cumulative("treatments", most=most), context=earlier("2026-06-01")) == expected
    assert outcome(cumulative("treatments", "surface", most), context=earlier("2026-06-01")) == expected


def test_product_per_area_is_the_sum_of_the_rates() -> None:
    """1.4 gal on 1342 square feet is 1.04322 gal per 1000 square feet; twice that is 2.08644."""
    twice = earlier("2026-06-01")
    assert outcome(cumulative(per="area", most="2.0865 gal/(1000 ft**2)"), context=twice) == "met"
    assert outcome(cumulative(per="area", most="2.0864 gal/(1000 ft**2)"), context=twice) == "not_met"


@pytest.mark.parametrize(
    ("changes", "context", "about"),
    [
        ({}, {"earlier": None}, ("context.earlier",)),
        ({f"{LINE}.registration_number": None}, {}, (f"{LINE}.registration_number",)),
        ({"timing": None}, {}, ("timing.started_at",)),
        ({f"{LINE}.amount": None}, {}, (f"{LINE}.amount",)),
        ({}, earlier("2026-06-01", timing=None), ("context.earlier[0].timing.started_at",)),
        (
            {},
            earlier("2026-06-01", **{f"{LINE}.amount": None}),
            (f"context.earlier[0].{LINE}.amount",),
        ),
        ({f"{LINE}.amount": {"value": "12", "unit": "lb"}}, {}, (f"{LINE}.amount",)),
    ],
)
def test_what_is_missing_is_named(changes: dict[str, Any], context: dict[str, Any], about: Any) -> None:
    found = finding(cumulative(), changes=changes, context=context)
    assert (found.outcome, found.about) == ("cant_tell", about)


def test_a_total_has_a_least_too() -> None:
    assert outcome(cumulative(most="9 gal", min="1.5 gal")) == "not_met"


def test_on_unknown_surfaces_nothing_is_added_up() -> None:
    nowhere = {"surfaces": [], "mixes[0].surfaces": None}
    assert outcome(cumulative(per="area", most="1 gal/acre"), changes=nowhere) == "cant_tell"


def test_the_bound_is_a_limit_in_force() -> None:
    limits = check(cumulative()).limits
    assert [limit.quantity for limit in limits if limit.layer == "law"] == ["site_per_year"]


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"per": "surface"}, "rule/unknown_word"),
        ({"total": "treatments", "per": "area", "max": "2"}, "rule/unknown_word"),
        ({"max": "2 acre"}, "rule/quantity"),
        ({"total": "treatments", "max": "2 gal"}, "rule/not_a_count"),
        ({"max": None}, "rule/some_of_keys"),
        ({"judges": "document"}, "rule/wrong_subject"),
    ],
)
def test_a_total_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack({key: value for key, value in {**cumulative(), **keys}.items() if value is not None})
    assert caught.value.wording_id == wording
