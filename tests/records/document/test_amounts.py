from fractions import Fraction

import pytest

from records.document import amounts
from records.document.computed import WORDINGS, Amount, NoAmount
from records.document.reader import read
from tests.records.document.documents import changed, document


def example(changes=None, name: str = "example"):
    return read(changed(changes or {}, name))


def said(found: Amount | NoAmount) -> str:
    return found.say("en")


def test_product_applied_is_amount_times_applied_over_mixed():
    applied = amounts.product_applied(example(), 0, 0)
    assert (applied.exact, applied.unit) == (Fraction(3, 2) * 14 / 15, "gal")
    assert applied.how("en") == "1.5 gal × 14 gal applied / 15 gal mixed"
    assert applied.how("es") == "1.5 gal × 14 gal aplicados / 15 gal mezclados"


def test_product_applied_is_exact_across_units():
    """13.5 gal of water beside 192 fl oz of product is the same mix as with 1.5 gal."""
    ounces = example({"mixes[0].products[0].amount": {"value": "192", "unit": "fl_oz"}})
    assert amounts.product_applied(ounces, 0, 0).base == amounts.product_applied(example(), 0, 0).base


def test_mixed_adds_products_and_diluent():
    assert said(amounts.mixed(example(), 0)) == "15 gal"
    assert amounts.mixed(example(), 0).how("en") == "1.5 gal + 13.5 gal"


def test_a_weighed_liquid_adds_its_volume_by_its_density():
    """8.9 lb of a product of 8.9 lb/gal is one gallon."""
    weighed = example({"mixes[0].products[0].amount": {"value": "8.9", "unit": "lb"}})
    assert amounts.mixed(weighed, 0).exact == Fraction(29, 2)


def test_the_volume_of_a_dry_product_is_left_out_and_this_is_said():
    dry = example(
        {
            "mixes[0].products[0].amount": {"value": "3", "unit": "lb"},
            "mixes[0].products[0].density": None,
        }
    )
    mixed = amounts.mixed(dry, 0)
    assert mixed.exact == Fraction(27, 2)
    assert mixed.how("en") == "13.5 gal; the volume of the dry product is left out"
    assert amounts.product_applied(dry, 0, 0).exact == Fraction(3) * 14 / Fraction(27, 2)


def test_a_dry_mix_is_weighed():
    full = read(document("full"))
    assert said(amounts.mixed(full, 1)) == "3 lb"
    assert said(amounts.product_applied(full, 1, 0)) == "2.5 lb"
    assert amounts.product_rate(full, 1, 0).exact == Fraction(25, 3)
    assert amounts.product_rate(full, 1, 0).unit == "lb/(1000 ft**2)"


@pytest.mark.parametrize(
    ("changes", "paths"),
    [
        ({"mixes[0].products[0].amount": None}, ("mixes[0].products[0].amount",)),
        ({"mixes[0].diluent": None}, ("mixes[0].diluent.amount",)),
        ({"mixes[0].diluent.amount": None, "mixes[0].form": "dry"}, ("mixes[0].diluent.amount",)),
        ({"mixes[0].products": []}, ("mixes[0].products",)),
        (
            {"mixes[0].products": None, "mixes[0].diluent": None},
            ("mixes[0].products", "mixes[0].diluent.amount"),
        ),
    ],
)
def test_what_keeps_a_mix_from_being_added_up_is_named_by_its_path(changes, paths):
    assert amounts.mixed(example(changes), 0).paths == paths


def test_a_mix_that_is_ready_to_use_needs_no_diluent():
    ready = example({"mixes[0].diluent": None, "mixes[0].form": "ready-to-use"})
    assert said(amounts.mixed(ready, 0)) == "1.5 gal"


def test_product_applied_needs_what_was_applied_first():
    assert amounts.product_applied(example({"mixes[0].applied": None}), 0, 0).paths == ("mixes[0].applied",)
    no_amount = example({"mixes[0].products[0].amount": None})
    assert amounts.product_applied(no_amount, 0, 0).paths == ("mixes[0].products[0].amount",)
    no_water = example({"mixes[0].diluent": None})
    assert amounts.product_applied(no_water, 0, 0).say("es") == "hace falta mixes[0].diluent.amount"


def test_a_weight_applied_of_a_volume_mixed_gives_no_amount():
    pounds = example({"mixes[0].applied": {"value": "14", "unit": "lb"}})
    assert said(amounts.product_applied(pounds, 0, 0)) == "14 lb and 15 gal cannot be set against each other"


def test_a_volume_in_a_weighed_mix_without_density_gives_no_amount():
    lines = document("full")["mixes"][1]["products"]
    line = {**lines[0], "amount": {"value": "1", "unit": "gal"}}
    found = amounts.mixed(example({"mixes[1].products": [*lines, line]}, "full"), 1)
    assert found.paths == ("mixes[1].products[1].amount",)


def test_nothing_mixed_gives_no_amount_instead_of_a_division_by_zero():
    none = example(
        {"mixes[0].products[0].amount.value": "0", "mixes[0].diluent.amount": {"value": "0", "unit": "gal"}}
    )
    assert said(amounts.product_applied(none, 0, 0)) == "nothing was mixed"


@pytest.mark.parametrize(
    ("unit", "exact"),
    [
        ("percent", Fraction(10)),
        ("ppm", Fraction(100_000)),
        ("fl_oz/gal", Fraction(64, 5)),
        ("mL/L", Fraction(100)),
    ],
)
def test_strength_is_the_product_over_all_that_was_mixed(unit, exact):
    assert amounts.strength(example(), 0, 0, unit).exact == exact


def test_strength_by_weight_per_volume_goes_by_the_density():
    """1.5 gal of 8.9 lb/gal is 13.35 lb in 15 gal: 89 lb in 100 gal."""
    assert amounts.strength(example(), 0, 0, "lb/(100 gal)").exact == 89


def test_strength_in_percent_cannot_be_told_where_weight_and_volume_meet():
    weighed = example({"mixes[0].products[0].amount": {"value": "8.9", "unit": "lb"}})
    found = amounts.strength(weighed, 0, 0)
    assert found.paths == ("mixes[0].products[0].amount",)
    assert said(found) == "8.9 lb and 14.5 gal cannot be set against each other"


def test_strength_needs_a_density_where_volume_is_to_be_weighed():
    no_density = example({"mixes[0].products[0].density": None})
    assert amounts.strength(no_density, 0, 0, "oz/gal").paths == ("mixes[0].products[0].amount",)
    no_amount = example({"mixes[0].products[0].amount": None})
    assert amounts.strength(no_amount, 0, 0).paths == ("mixes[0].products[0].amount",)
    assert amounts.strength(example({"mixes[0].diluent": None}), 0, 0).paths == ("mixes[0].diluent.amount",)


def test_coverage_goes_surface_by_surface_where_each_has_its_own_amount():
    ((path, found),) = amounts.coverage(example(), 0)
    assert path == "mixes[0].surfaces[0].applied"
    assert (found.exact, found.unit) == (Fraction(1400, 1342), "gal/(100 ft**2)")
    assert found.how("en") == "14 gal on 1342 ft²"


def test_coverage_goes_over_the_sum_of_the_areas_where_no_surface_has_its_own():
    named = [{"surface": surface["name"]} for surface in document("full")["surfaces"]]
    full = example({"mixes[0].surfaces": named}, "full")
    ((path, found),) = amounts.coverage(full, 0)
    assert path == "mixes[0].applied"
    assert found.exact == Fraction(1400, 1642)
    assert amounts.total_area(full, 0).how("en") == "1342 ft² + 300 ft²"


def test_where_some_surfaces_have_their_own_the_others_lack_theirs():
    named = [{"surface": surface["name"]} for surface in document("full")["surfaces"]]
    named[0]["applied"] = {"value": "3", "unit": "gal"}
    (_, first), (path, second) = amounts.coverage(example({"mixes[0].surfaces": named}, "full"), 0)
    assert first.exact == Fraction(300, 1342)
    assert path == "mixes[0].surfaces[1].applied" and second.paths == (path,)


def test_coverage_of_a_metric_area_is_metric():
    ((_, found),) = amounts.coverage(read(document("metric")), 0)
    assert (found.exact, found.unit) == (Fraction(12000, 1205), "L/(100 m**2)")


@pytest.mark.parametrize(
    ("changes", "missing"),
    [
        ({"surfaces[0].treated_area": None}, "surfaces[0].treated_area"),
        ({"surfaces": None}, "surfaces"),
        ({"mixes[0].surfaces[0].surface": None}, "mixes[0].surfaces[0].surface"),
        ({"mixes[0].surfaces": None, "mixes[0].applied": None}, "mixes[0].applied"),
        ({"mixes[0].surfaces": None}, "mixes[0].surfaces"),
        ({"mixes[0].surfaces": []}, "mixes[0].surfaces"),
        ({"mixes[0].surfaces": None, "surfaces": None}, "surfaces"),
    ],
)
def test_what_keeps_coverage_from_being_told_is_named_by_its_path(changes, missing):
    ((_, found),) = amounts.coverage(example(changes), 0)
    assert found.paths == (missing,)


def test_product_rate_is_product_applied_over_the_area():
    assert amounts.product_rate(example(), 0, 0).exact == Fraction(140, 1342)
    assert amounts.product_rate(example({"mixes[0].applied": None}), 0, 0).paths == ("mixes[0].applied",)


def test_a_rate_in_a_unit_of_weight_for_a_measured_volume_gives_no_amount():
    found = amounts.product_rate(example(), 0, 0, "lb/acre")
    assert said(found) == "1.4 gal and lb/acre cannot be set against each other"


def test_each_sentence_has_the_same_blanks_in_both_languages():
    assert all(wording.blank_names("en") == wording.blank_names("es") for wording in WORDINGS.values())
