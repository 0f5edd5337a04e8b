"""Slope factors and roof areas against trade tables, each with its source."""

from fractions import Fraction

import pytest

from shared.geometry import slope_area, slope_factor
from shared.quantities import parse
from tests.outside.check_values import rows

FACTORS = rows("pitch_factors.csv")
AREAS = rows("roof_areas.csv")


@pytest.mark.parametrize("row", FACTORS, ids=lambda row: f"{row['rise']} in {row['run']}: {row['factor']}")
def test_a_slope_factor_agrees_with_the_table(row):
    factor = slope_factor(Fraction(row["rise"]), Fraction(row["run"]))

    assert abs(factor - Fraction(row["factor"])) <= Fraction(row["tolerance"])


@pytest.mark.parametrize("row", AREAS, ids=lambda row: row["id"])
def test_a_roof_area_agrees_with_the_worked_example(row):
    area = slope_area(parse(row["plan_area"]), Fraction(row["rise"]), Fraction(row["run"]))
    expected = parse(row["expected"])

    assert abs(area.to(expected.unit) - expected.exact) <= Fraction(row["tolerance"])


def test_every_check_value_names_its_source():
    assert all(row["source"] for row in FACTORS + AREAS)
