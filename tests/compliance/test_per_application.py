"""A label's rates and strengths are of one application: all lines and mixes of a product together."""

from fractions import Fraction
from typing import Any

import pytest

from compliance.rulebook.sizes import Exact
from tests.compliance.facts_of import earlier, facts, measured, shown
from tests.compliance.patched import load, patched


def test_the_rate_and_the_strength_of_a_product_are_exact() -> None:
    """1.5 gal in 15 gal is 10 %, and 1.5 x 14 / 15 = 1.4 gal were applied to 1342 ft², by hand."""
    assert shown(measured("dilution", "percent")) == ["10"]
    assert shown(measured("product_rate", "gal/(1000 ft**2)")) == ["1.04322"]


def test_the_strength_of_a_weighed_product_is_a_weight_per_volume() -> None:
    """3 lb in 13.5 gal of water, the volume of the dry product left out: 22.2222 lb per 100 gal, by hand."""
    weighed = {"mixes[0].products[0].amount": {"value": "3", "unit": "lb"}}
    weighed["mixes[0].products[0].density"] = None
    product = facts(weighed).subjects["products"].subjects[0].roots["product"]
    assert product.members["strength"].value == Exact(Fraction(200, 9), "lb/(100 gal)")
    found = measured("dilution", "percent", weighed)
    assert found[0].lacks == ("mixes[0].products[0].amount",)


def test_product_per_area_is_added_up_over_the_year() -> None:
    """Twice 1.4 gal on 1342 ft², by hand."""
    context = {"earlier": [earlier("2026-08-01"), earlier("2025-12-31")]}
    assert shown(measured("per_year", "gal/(1000 ft**2)", None, context)) == ["2.08644"]
    assert measured("per_year", "gal/acre", None, {"earlier": None})[0].lacks == ("context.earlier",)
    unknown = {"earlier": [earlier("2026-08-01", **{"mixes[0].applied": None})]}
    assert measured("per_year", "gal/acre", None, unknown)[0].lacks == ("context.earlier[0].mixes[0].applied",)


def a_mix(mix: str = "mixes[0]", **changes: Any) -> Any:
    """The example's mix once more, with changes in it."""
    again = patched(load("facts/roof-in-september.json"), {f"{mix}.{k}": v for k, v in changes.items()})
    return again["mixes"][0]


def test_two_mixes_of_one_product_on_one_roof_are_added_up():
    """A label's rate is of the application: twice 1.4 gal of product, and twice 14 gal of mix, on 1342 ft²."""
    twice = {"mixes[1]": a_mix()}
    assert shown(measured("product_rate", "gal/(1000 ft**2)", twice)) == ["2.08644"]
    assert shown(measured("coverage", "gal/(100 ft**2)", twice)) == ["2.08644"]
    assert shown(measured("per_year", "gal/(1000 ft**2)", twice)) == ["2.08644"]
    shared_amount = {"mixes[1]": a_mix(**{"surfaces[0].applied": None})}
    assert shown(measured("coverage", "gal/(100 ft**2)", shared_amount)) == ["2.08644"]


def test_a_mix_of_the_product_whose_surfaces_or_amounts_are_not_stated_leaves_the_sum_open():
    bare = {"mixes[1]": a_mix(surfaces=None)}
    unapplied = {"mixes[1]": a_mix(applied=None, **{"surfaces[0].applied": None})}
    for name, unit in (("product_rate", "gal/(1000 ft**2)"), ("coverage", "gal/(100 ft**2)")):
        assert measured(name, unit, bare)[0].lacks == ("mixes[1].surfaces",)
        assert measured(name, unit, unapplied)[0].lacks == ("mixes[1].applied",)


@pytest.mark.parametrize(
    "other",
    [
        {"products[0].registration_number": "99999-13"},
        {"products[0].registration_number": None, "products[0].name": "Sample Wetter"},
    ],
)
def test_a_mix_of_another_product_on_the_same_roof_is_not_added(other):
    twice = {"mixes[1]": a_mix(**other)}
    assert shown(measured("product_rate", "gal/(1000 ft**2)", twice)) == ["1.04322"]
    assert shown(measured("coverage", "gal/(100 ft**2)", twice)) == ["1.04322"]


def test_a_mix_of_the_product_on_another_surface_is_a_rate_of_its_own():
    """14 gal on 1342 ft² and on 671 ft²: 1.04322 and 2.08644 gal per 100 ft²."""
    walk = {"name": "Walk", "treated_area": {"value": "671", "unit": "ft**2"}}
    twice = {"surfaces[1]": walk, "mixes[1]": a_mix(**{"surfaces[0].surface": "Walk"})}
    roof, path = facts(twice).subjects["products"].subjects
    for name, unit in (("product_rate", "gal/(1000 ft**2)"), ("coverage", "gal/(100 ft**2)")):
        assert shown(roof.measure(name, unit)) == ["1.04322"]
        assert shown(path.measure(name, unit)) == ["2.08644"]


@pytest.mark.parametrize("number", ["99999-12", None])
def test_one_product_from_two_lots_in_one_mix_has_one_strength(number):
    """0.75 gal of one lot and 0.75 gal of another in 15 gal are 10 %, by hand."""
    line = load("facts/roof-in-september.json")["mixes"][0]["products"][0]
    half = {"mixes[0].products[0].amount": {"value": "0.75", "unit": "gal"}}
    other_lot = line | {"amount": {"value": "0.75", "unit": "gal"}, "lot": "L-0458"}
    two_lots = half | {"mixes[0].products[1]": other_lot | {"registration_number": number}}
    assert shown(measured("dilution", "percent", two_lots)) == ["10"]
    assert shown(measured("product_rate", "gal/(1000 ft**2)", two_lots)) == ["1.04322"]
    assert shown(measured("coverage", "gal/(100 ft**2)", two_lots)) == ["1.04322"]
