"""The unit table against the tables of NIST and against reference libraries."""

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from scipy import constants

from shared.quantities import BASE_UNITS, UNITS, parse
from tests.outside.check_values import rows

ROWS = rows("unit_conversions.csv")


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['quantity']} in {row['unit']}")
def test_a_conversion_agrees_with_the_published_value(row):
    converted = parse(row["quantity"]).to(row["unit"])
    printed = Fraction(row["printed"])
    last_place = Fraction(10) ** Decimal(row["printed"]).as_tuple().exponent
    allowed = 0 if row["kind"] == "exact" else last_place / 2

    assert abs(converted - printed) <= allowed


def test_every_check_value_names_its_source_and_where_it_was_read():
    assert all(row["source"] and row["origin"] for row in ROWS)


@pytest.mark.parametrize(
    ("unit", "base", "metres_litres_or_kilograms"),
    [
        ("inch", "m", constants.inch),
        ("ft", "m", constants.foot),
        ("yd", "m", constants.yard),
        ("mi", "m", constants.mile),
        ("acre", "m**2", constants.acre),
        ("ha", "m**2", constants.hectare),
        ("gal", "L", constants.gallon * 1000),
        ("fl_oz", "L", constants.fluid_ounce * 1000),
        ("lb", "kg", constants.pound),
        ("oz", "kg", constants.ounce),
        ("mph", "m/s", constants.mph),
        ("knot", "m/s", constants.knot),
        ("psi", "kPa", constants.psi / 1000),
        ("bar", "kPa", constants.bar / 1000),
    ],
)
def test_a_factor_agrees_with_scipy(unit, base, metres_litres_or_kilograms):
    """Reference library: scipy.constants."""
    assert UNITS[unit].dimension == UNITS[base].dimension
    assert float(UNITS[unit].factor) == pytest.approx(metres_litres_or_kilograms, rel=1e-12)


@pytest.mark.parametrize("fahrenheit", ["-40", "0", "32", "61", "98.6", "212"])
def test_a_temperature_agrees_with_scipy(fahrenheit):
    """Reference library: scipy.constants."""
    celsius = constants.convert_temperature(float(fahrenheit), "Fahrenheit", "Celsius")

    assert float(parse(f"{fahrenheit} degF").base) == pytest.approx(celsius, abs=1e-9)


UNLIKE_PINTS = {"acre", "gal/acre", "lb/acre", "degF", "degC"}


@pytest.fixture(scope="module")
def pints_own_table():
    """Reference library: pint's default registry."""
    return pint.UnitRegistry(non_int_type=Fraction)


@pytest.mark.parametrize("name", sorted(set(UNITS) - UNLIKE_PINTS))
def test_every_other_factor_agrees_with_pints_own_table(name, pints_own_table):
    """Its acre is the survey acre, and temperatures are checked apart: both are left out."""
    expression = name.replace("fl_oz", "fluid_ounce").replace(" ", "*")
    theirs = pints_own_table.parse_expression(expression)
    base = pints_own_table.parse_expression(BASE_UNITS[UNITS[name].dimension])

    assert Fraction((theirs / base).to("").magnitude) == UNITS[name].factor


def test_the_acre_is_not_the_survey_acre():
    """43,560 square feet exactly; pint's own acre gives 43,560.174 (seen in pint 0.25)."""
    assert parse("1 acre").to("ft**2") == 43560
    assert pint.UnitRegistry().Quantity(1, "acre").to("ft**2").magnitude != 43560
