"""Planning a mix: the whole of it, load by load."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.mixing import WORDINGS, MixError, plan_mix, read_dilution
from shared.quantities import Quantity
from shared.wording import LANGUAGES

AREA, COVERAGE = "2600 ft**2", "1.3 gal/(100 ft**2)"


def test_a_plan_states_mix_product_diluent_loads_and_time_as_quantities():
    plan = plan_mix(AREA, COVERAGE, "1:15", tank="25 gal", flow="2.2 gal/min").as_json()

    assert plan["finished_mix"] == {"value": "33.8", "unit": "gal"}
    assert plan["product"] == {"value": "2.1125", "unit": "gal"}
    assert plan["diluent"] == {"value": "31.6875", "unit": "gal"}
    assert plan["loads"] == [
        {
            "product": {"value": "1.5625", "unit": "gal"},
            "diluent": {"value": "23.4375", "unit": "gal"},
            "volume": {"value": "25", "unit": "gal"},
        },
        {
            "product": {"value": "0.55", "unit": "gal"},
            "diluent": {"value": "8.25", "unit": "gal"},
            "volume": {"value": "8.8", "unit": "gal"},
        },
    ]
    assert plan["spray_time"] == {"value": "15.3636", "unit": "min"}


def test_without_a_tank_volumes_are_in_the_unit_of_the_coverage_and_no_loads_are_planned():
    plan = plan_mix("100 m**2", "500 mL/m**2", "1 in 10")

    assert plan.finished_mix == Quantity("50000", "mL")
    assert plan.product == Quantity("5000", "mL")
    assert plan.loads == ()
    assert "mix/note_no_tank" in [note.wording_id for note in plan.notes]


def test_without_a_flow_no_time_is_given():
    assert plan_mix(AREA, COVERAGE, "1:15").as_json()["spray_time"] is None


def test_a_metric_tank_gives_litres_from_a_coverage_in_gallons():
    plan = plan_mix("1000 ft**2", "1 gal/(100 ft**2)", "8 fl_oz/gal", tank="20 L")

    assert [load.volume for load in plan.loads] == [Quantity("20", "L"), Quantity("17.8541", "L")]
    assert plan.product == Quantity("80", "fl_oz")


def test_a_rate_names_the_unit_of_the_product():
    assert plan_mix(AREA, COVERAGE, "3 lb/(100 gal)", tank="25 gal").product == Quantity("1.014", "lb")


def test_a_dry_product_takes_nothing_from_the_diluent():
    plan = plan_mix(AREA, COVERAGE, "3 lb/(100 gal)")

    assert plan.diluent == plan.finished_mix


def test_a_rate_per_volume_of_water_leaves_room_for_the_product():
    plan = plan_mix("1700 ft**2", "1 gal/(100 ft**2)", "8 fl_oz/gal of water")

    assert (plan.product, plan.diluent) == (Quantity("128", "fl_oz"), Quantity("16", "gal"))


def test_a_rate_per_area_is_carried_in_the_mix_of_the_coverage():
    plan = plan_mix("2000 ft**2", "1 gal/(100 ft**2)", "6 fl_oz/(1000 ft**2)", tank="10 gal")

    assert plan.product == Quantity("12", "fl_oz")
    assert [load.product for load in plan.loads] == [Quantity("6", "fl_oz")] * 2
    assert plan.diluent == Quantity("19.9063", "gal")


def test_a_mix_that_fills_the_tank_exactly_leaves_no_part_load():
    assert len(plan_mix("5000 ft**2", "1 gal/(100 ft**2)", "1:15", tank="25 gal").loads) == 2


def test_a_mix_smaller_than_the_tank_is_one_part_load():
    loads = plan_mix("500 ft**2", "1 gal/(100 ft**2)", "1:15", tank="25 gal").loads

    assert [load.volume for load in loads] == [Quantity("5", "gal")]


def test_a_product_used_undiluted_needs_no_diluent():
    plan = plan_mix("500 ft**2", "1 gal/(100 ft**2)", "100 %")

    assert (plan.product, plan.diluent) == (Quantity("5", "gal"), Quantity("0", "gal"))


def test_quantities_that_were_read_already_are_taken_too():
    area, coverage = Quantity("2600", "ft**2"), Quantity("1.3", "gal/(100 ft**2)")

    assert plan_mix(area, coverage, read_dilution("1:15")) == plan_mix(AREA, COVERAGE, "1:15")


def test_a_thousand_loads_are_planned_and_one_more_is_not():
    assert len(plan_mix("100000 ft**2", "1 gal/(100 ft**2)", "1:15", tank="1 gal").loads) == 1000

    with pytest.raises(MixError, match=r"a tank of 1 gal would take more than 1000 loads for 1000\.01 gal"):
        plan_mix("100001 ft**2", "1 gal/(100 ft**2)", "1:15", tank="1 gal")


def test_the_label_is_named_as_what_outranks_the_figures():
    plan = plan_mix(AREA, COVERAGE, "1:15").as_json("en")

    assert "the label is the law" in plan["notes"][-1]


@pytest.mark.parametrize(
    ("given", "field", "sentence"),
    [
        ({"area": "-5 ft**2"}, "area", "an area cannot be below 0, got -5 ft²"),
        ({"area": "0 ft**2"}, "area", "an area must be above 0, got 0 ft²"),
        ({"area": "3000 gal"}, "area", "expected an area, got 3000 gal"),
        ({"area": Quantity("3000", "gal")}, "area", "expected an area, got 3000 gal"),
        ({"coverage": "1.3 gal"}, "coverage", "expected a volume per area, got 1.3 gal"),
        ({"coverage": "3 lb/acre"}, "coverage", "expected a volume per area, got 3 lb/acre"),
        ({"coverage": "0 gal/acre"}, "coverage", "0 gal/acre will not do; it must be above 0"),
        ({"tank": "0 gal"}, "tank", "0 gal will not do; it must be above 0"),
        ({"tank": "25 lb"}, "tank", "expected a volume, got 25 lb"),
        ({"flow": "0 gal/min"}, "flow", "0 gal/min will not do; it must be above 0"),
        ({"flow": "2.2 gal"}, "flow", "expected a flow, got 2.2 gal"),
        ({"dilution": "150 %"}, "dilution",
         "150 % asks for more product (50.7 gal) than there is finished mix (33.8 gal)"),
        ({"dilution": "1 in 0.5"}, "dilution",
         "1 in 0.5 asks for more product (67.6 gal) than there is finished mix (33.8 gal)"),
        ({"dilution": "600 gal/acre"}, "dilution",
         "600 gal/acre asks for more product (35.8127 gal) than there is finished mix (33.8 gal)"),
        ({"dilution": "0.000001 ppm"}, "dilution",
         "0.000001 ppm makes so little product for this area that it cannot be stated"),
        ({"coverage": "0.000000001 mL/m**2", "area": "0.01 m**2"}, "area",
         "this area and coverage make so little finished mix that it cannot be stated"),
        ({"coverage": "999999999 gal/(100 ft**2)", "area": "999999999 acre"}, "area",
         "435600000000000000000 is too large to be written as a quantity in gal"),
    ],
)  # fmt: skip
def test_a_figure_that_will_not_do_is_refused_beside_its_field(given, field, sentence):
    with pytest.raises(MixError) as refused:
        plan_mix(**{"area": AREA, "coverage": COVERAGE, "dilution": "1:15", **given})

    assert (refused.value.field, str(refused.value)) == (field, sentence)
    assert refused.value.say("es") != sentence


@given(
    area=st.integers(1, 100_000),
    parts=st.integers(0, 200),
    tank=st.integers(5, 500),
)
def test_the_loads_add_up_to_the_whole(area, parts, tank):
    """Each figure is rounded to six significant digits, so sums agree to within the rounding of each."""
    plan = plan_mix(f"{area} ft**2", "1 gal/(100 ft**2)", f"1:{parts}", tank=f"{tank} gal")
    allowed = plan.finished_mix.exact * Fraction(1, 100_000)

    for whole, member in (
        (plan.finished_mix, "volume"),
        (plan.product, "product"),
        (plan.diluent, "diluent"),
    ):
        total = sum(getattr(load, member).exact for load in plan.loads)
        assert abs(total - whole.exact) <= allowed
    assert abs(plan.product.exact + plan.diluent.exact - plan.finished_mix.exact) <= allowed


@pytest.mark.parametrize("wording_id", WORDINGS)
def test_a_sentence_about_mixing_has_the_same_blanks_in_every_language(wording_id):
    assert len({WORDINGS[wording_id].blank_names(language) for language in LANGUAGES}) == 1
