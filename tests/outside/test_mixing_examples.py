"""The mixing calculator against worked examples of the trade, each with its source."""

from fractions import Fraction

import pytest

from records.mixing import plan_mix
from shared.quantities import Quantity, parse
from tests.outside.check_values import rows

ROWS = rows("mixing.csv")


def stated(row: dict[str, str]) -> Quantity:
    plan = plan_mix(row["area"], row["coverage"], row["dilution"], row["tank"] or None, row["flow"] or None)
    member: object = plan.as_json()
    for key in row["member"].split("."):
        member = member[int(key) if key.isdigit() else key]
    return Quantity(**member)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_a_worked_example_comes_out_as_published(row):
    expected = parse(row["expected"])

    assert abs(stated(row).to(expected.unit) - expected.exact) <= Fraction(row["tolerance"])


@pytest.mark.parametrize(
    ("dilution", "finished_mix", "density", "printed", "tolerance"),
    [
        # US Army Medical Department, Pesticides in the Military (MD0173): 5 gal of a 2 % spray from an
        # 80 % powder, the spray at 8.34 lb/gal, take 1.04 lb
        ("2 % active from 80 % by weight", "5 gal", "8.34 lb/gal", "1.04 lb", "0.005"),
        # UNHCR, Vector and Pest Control in Refugee Situations (1997): 100 L of 2.5 % from 50 %, at
        # 1 kg/L, take 5 kg
        ("2.5 % active from 50 % by weight", "100 L", "1 kg/L", "5 kg", "0"),
    ],
    ids=["MIX-11", "MIX-12"],
)
def test_a_worked_example_by_weight_comes_out_as_published(
    dilution, finished_mix, density, printed, tolerance
):
    """Both set the weight of the product against that of the whole, of one density."""
    mix, weighs = parse(finished_mix), parse(printed)
    area, coverage = {"gal": ("100 ft2", "5 gal/100 ft2"), "L": ("100 m2", "1 L/m2")}[mix.unit]
    plan = plan_mix(area, coverage, dilution, density=density)
    assert plan.finished_mix == mix
    mass = plan.product.to("L") * parse(density).to("kg/L")
    grams = {"lb": Fraction("453.59237"), "kg": Fraction(1000)}[weighs.unit]
    assert abs(mass * 1000 / grams - weighs.exact) <= Fraction(tolerance)


def test_every_worked_example_names_its_source():
    assert all(row["source"] for row in ROWS)
