"""Quantities: the grammar of values, exact conversion and comparison, rounding for display."""

from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.quantities import (
    BASE_UNITS,
    UNITS,
    Quantity,
    QuantityError,
    compare,
    from_base,
    from_fraction,
    say,
    units_of,
)

VALUES = st.from_regex(r"(0|[1-9][0-9]{0,11})(\.[0-9]{1,9})?", fullmatch=True)


def test_digits_and_unit_stay_as_entered():
    quantity = Quantity("2.50", "gal")

    assert quantity.as_json() == {"value": "2.50", "unit": "gal"}
    assert quantity.say("en") == "2.50 gal"


@pytest.mark.parametrize("value", ["0", "0.5", "2.50", "999999999999", "1.000000001"])
def test_a_value_within_the_grammar_is_taken(value):
    assert Quantity(value, "gal").exact == Fraction(value)


@pytest.mark.parametrize(
    "value",
    ["", " 1", "1 ", "+1", "01", ".5", "5.", "1e3", "1,5", "NaN", "Infinity", "1_000", "٣", "1.0000000001",
     "1000000000000", "1\n", "--1"],
)  # fmt: skip
def test_a_value_outside_the_grammar_is_refused(value):
    with pytest.raises(QuantityError) as refused:
        Quantity(value, "gal")

    assert refused.value.wording_id == "quantity/not_a_value"


def test_only_a_temperature_may_be_below_zero():
    assert Quantity("-40", "degF").base == -40

    with pytest.raises(QuantityError, match="a volume cannot be below 0, got -5 gal"):
        Quantity("-5", "gal")


def test_an_area_must_be_above_zero():
    with pytest.raises(QuantityError, match="an area must be above 0, got 0 ft²"):
        Quantity("0", "ft**2")


def test_a_unit_that_is_not_in_the_table_is_refused():
    with pytest.raises(QuantityError, match="unknown unit firkin"):
        Quantity("1", "firkin")


def test_the_units_of_a_dimension_are_listed_in_the_order_of_the_table():
    assert units_of("area") == ["ft**2", "yd**2", "acre", "m**2", "ha"]


def test_every_base_unit_is_a_unit_of_its_dimension_with_factor_one():
    for dimension, base in BASE_UNITS.items():
        unit = UNITS[base]
        assert (unit.dimension, unit.factor, unit.offset) == (dimension, 1, 0)


def test_ten_miles_an_hour_are_exactly_16_09344_kilometres_an_hour():
    assert compare(Quantity("16.09344", "km/h"), Quantity("10", "mph")) == 0


def test_both_spellings_of_kilometres_an_hour_are_the_same_speed():
    assert compare(Quantity("10", "km/h"), Quantity("10", "km/hour")) == 0


@pytest.mark.parametrize(
    ("a", "b", "expected"),
    [
        (Quantity("1", "gal"), Quantity("128", "fl_oz"), 0),
        (Quantity("10.000000001", "mph"), Quantity("10", "mph"), 1),
        (Quantity("16.093440001", "km/h"), Quantity("10", "mph"), 1),
        (Quantity("16.093439999", "km/h"), Quantity("10", "mph"), -1),
        (Quantity("32", "degF"), Quantity("0", "degC"), 0),
        (Quantity("-1", "degC"), Quantity("31", "degF"), -1),
        (Quantity("10000", "ppm"), Quantity("1", "percent"), 0),
    ],
)
def test_comparison_is_exact_across_units(a, b, expected):
    assert compare(a, b) == expected
    assert compare(b, a) == -expected


def test_quantities_of_different_dimensions_cannot_be_compared():
    with pytest.raises(QuantityError, match="expected a volume, got 1 lb"):
        compare(Quantity("1", "gal"), Quantity("1", "lb"))


def test_a_quantity_cannot_be_converted_to_another_dimension():
    with pytest.raises(QuantityError, match="expected an area, got 3000 gal"):
        Quantity("3000", "gal").to("ft**2")


def test_a_quantity_cannot_be_converted_to_a_unit_that_is_not_in_the_table():
    with pytest.raises(QuantityError, match="the units for a volume are gal, qt"):
        Quantity("3000", "gal").to("firkin")


@given(value=VALUES, names=st.sampled_from([(a, b) for a in UNITS for b in UNITS]))
def test_a_value_comes_back_unchanged_from_any_unit_of_its_dimension(value, names):
    here, there = UNITS[names[0]], UNITS[names[1]]
    if here.dimension != there.dimension or (here.dimension == "area" and not Fraction(value)):
        return
    quantity = Quantity(value, here.name)
    converted = quantity.to(there.name)

    assert (converted * there.factor + there.offset - here.offset) / here.factor == quantity.exact


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (Fraction(0), "0"),
        (Fraction(1, 3), "0.333333"),
        (Fraction(2, 3), "0.666667"),
        (Fraction(1234565, 10), "123457"),
        (Fraction(123456789), "123457000"),
        (Fraction(9999995, 10), "1000000"),
        (Fraction(5, 2), "2.5"),
        (Fraction(100), "100"),
        (Fraction(1, 1000000), "0.000001"),
        (Fraction(123456789, 10**13), "0.000012346"),
        (Fraction(1, 10**10), "0"),
    ],
)
def test_an_exact_value_is_stated_to_six_significant_digits_in_plain_notation(value, expected):
    assert from_fraction(value, "gal").value == expected


def test_the_number_of_digits_can_be_asked_for():
    assert from_fraction(Fraction(2, 3), "gal", digits=3).value == "0.667"


def test_a_temperature_below_zero_keeps_its_sign_unless_it_rounds_to_nothing():
    assert from_fraction(Fraction(-40, 3), "degC").value == "-13.3333"
    assert from_fraction(Fraction(-1, 10**12), "degC").value == "0"


def test_a_value_too_large_for_the_grammar_is_refused():
    with pytest.raises(QuantityError, match="1000000000000 is too large"):
        from_fraction(Fraction(10**12), "gal")


def test_a_base_value_is_stated_in_the_unit_asked_for():
    assert from_base(Fraction(0), "degF") == Quantity("32", "degF")
    assert from_base(Fraction("3.785411784"), "gal") == Quantity("1", "gal")


@given(st.fractions(min_value=Fraction(1, 1000), max_value=10**11))
def test_rounding_agrees_with_the_decimal_library(value):
    """Reference library: decimal, which divides correctly rounded."""
    context = Context(prec=6, rounding=ROUND_HALF_UP)
    rounded = context.divide(Decimal(value.numerator), Decimal(value.denominator))

    assert Decimal(from_fraction(value, "gal").value) == rounded


@pytest.mark.parametrize(
    ("quantity", "english", "spanish"),
    [
        (Quantity("2600", "ft**2"), "2600 ft²", "2600 pies²"),
        (Quantity("1", "day"), "1 day", "1 día"),
        (Quantity("30", "day"), "30 days", "30 días"),
        (Quantity("225", "degree"), "225°", "225°"),
        (Quantity("61", "degF"), "61 °F", "61 °F"),
        (Quantity("5", "percent"), "5 %", "5 %"),
        (Quantity("8", "fl_oz/gal"), "8 fl oz/gal", "8 fl oz/gal"),
        (Quantity("1.3", "gal/(100 ft**2)"), "1.3 gal/100 ft²", "1.3 gal/100 pies²"),
    ],
)
def test_a_quantity_is_said_in_each_language(quantity, english, spanish):
    assert say(quantity, "en") == english
    assert say(quantity, "es") == spanish
