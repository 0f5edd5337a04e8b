"""Reading a quantity from what a person typed, in English or Spanish."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.quantities import UNITS, Quantity, QuantityError, parse


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("2600 ft**2", "2600", "ft**2"),
        ("2600 sq ft", "2600", "ft**2"),
        ("2600 Sq. Ft.", "2600", "ft**2"),
        ("2600ft²", "2600", "ft**2"),
        ("2600 ft^2", "2600", "ft**2"),
        ("2600 square feet", "2600", "ft**2"),
        ("2600 pies cuadrados", "2600", "ft**2"),
        ("1.3 gal/(100 ft**2)", "1.3", "gal/(100 ft**2)"),
        ("1.3 gal/100 ft2", "1.3", "gal/(100 ft**2)"),
        ("1.3 gal / 100 sq ft", "1.3", "gal/(100 ft**2)"),
        ("1.3 gallons per 1,000 square feet", "1.3", "gal/(1000 ft**2)"),
        ("1,3 galones por 100 pies²", "1.3", "gal/(100 ft**2)"),
        ("2 oz per 1000 sq ft", "2", "oz/(1000 ft**2)"),
        ("40 gal/ac", "40", "gal/acre"),
        ("8 fl oz/gal", "8", "fl_oz/gal"),
        ("8 Fl. Oz.", "8", "fl_oz"),
        ("8 onzas líquidas", "8", "fl_oz"),
        ("3 lbs/100 gal", "3", "lb/(100 gal)"),
        ("61 °F", "61", "degF"),
        ("61ºF", "61", "degF"),
        ("-3 °C", "-3", "degC"),
        ("\N{MINUS SIGN}3 °C", "-3", "degC"),
        ("+3 °C", "3", "degC"),
        ("225°", "225", "degree"),
        ("5%", "5", "percent"),
        ("5 por ciento", "5", "percent"),
        ("5 per cent", "5", "percent"),
        ("10 miles per hour", "10", "mph"),
        ("10 millas por hora", "10", "mph"),
        ("10 km/hour", "10", "km/hour"),
        ("10 kph", "10", "km/h"),
        ("2.2 GPM", "2.2", "gal/min"),
        ('5"', "5", "inch"),
        ("20 L", "20", "L"),
        ("20 l", "20", "L"),
        ("  2.50   gal ", "2.50", "gal"),
        ("2,5 gal", "2.5", "gal"),
        ("0,200 L", "0.200", "L"),
        ("1,2345 gal", "1.2345", "gal"),
        (".5 gal", "0.5", "gal"),
        ("007 gal", "7", "gal"),
        ("12,500.50 ft2", "12500.50", "ft**2"),
        ("12.500,50 m2", "12500.50", "m**2"),
        ("1,234,567 ft2", "1234567", "ft**2"),
        ("1.234.567 m2", "1234567", "m**2"),
        ("12 500 ft2", "12500", "ft**2"),
        ("12\u202f500,5 m²", "12500.5", "m**2"),
        ("1.200 gal", "1.200", "gal"),
    ],
)
def test_the_ways_in_which_people_write_a_quantity_are_understood(text, value, unit):
    assert parse(text) == Quantity(value, unit)


@pytest.mark.parametrize("name", UNITS)
def test_every_unit_is_understood_as_the_table_writes_it_and_as_it_is_shown(name):
    shown = parse(Quantity("2", name).say("en")).unit

    assert parse(f"2 {name}").unit == name
    assert UNITS[shown].factor == UNITS[name].factor
    assert UNITS[parse(Quantity("2", name).say("es")).unit].factor == UNITS[name].factor


def test_a_lone_comma_before_three_digits_is_asked_about():
    with pytest.raises(QuantityError) as refused:
        parse("1,200 ft2")

    assert refused.value.say("en") == "1,200 can mean 1200 or 1.200; write one of these instead"
    assert refused.value.say("es") == "1,200 puede significar 1200 o 1.200; escriba uno de los dos"


@pytest.mark.parametrize(
    ("text", "dimension", "sentence"),
    [
        ("", "area", "nothing is written here; write a number and a unit, for example 2.5 ft²"),
        ("gal", None, "gal does not begin with a number; write a number and a unit, for example 2.5 gal"),
        ("5", "flow", "5 has no unit; the units for a flow are gal/min, L/min"),
        ("5", None, "5 has no unit"),
        ("5 gl", "flow", "unknown unit gl; the units for a flow are gal/min, L/min"),
        ("5 gal/week", "flow", "unknown unit gal/week; the units for a flow are gal/min, L/min"),
        ("5 gal/(3 ft2)", "flow", "unknown unit gal/(3 ft2); the units for a flow are gal/min, L/min"),
        ("5 psi/min", "flow", "unknown unit psi/min; the units for a flow are gal/min, L/min"),
        ("1e3 gal", None, "unknown unit e3 gal"),
        ("3000 gal", "area", "expected an area, got 3000 gal"),
        ("3 psi", ("area", "volume"), "expected an area or a volume, got 3 psi"),
        ("8 oz", "volume", "expected a volume, got 8 oz; oz is a weight, a fluid ounce is written fl oz"),
        ("1 1/2 gal", None,
         "1 1/2 gal has a fraction; write it with a decimal point, for example 1.5 for one and a half"),
        ("½ gal", None,
         "½ gal has a fraction; write it with a decimal point, for example 1.5 for one and a half"),
        ("-5 gal", None, "a volume cannot be below 0, got -5 gal"),
        ("0 sq ft", None, "an area must be above 0, got 0 ft²"),
        ("9" * 300, None,
         "this text is too long for a quantity; write a number and a unit, for example 2.5 gal"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_refused_with_the_reason(text, dimension, sentence):
    with pytest.raises(QuantityError) as refused:
        parse(text, dimension)

    assert str(refused.value) == sentence


@pytest.mark.parametrize("text", ["1.2.3 gal", "1,2,3 gal", "3 4 gal", "1,23,456 gal", "1.200,300.4 gal"])
def test_oddly_grouped_digits_are_refused(text):
    with pytest.raises(QuantityError) as refused:
        parse(text)

    assert refused.value.wording_id == "quantity/not_a_value"


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused_in_words(text):
    try:
        quantity = parse(text)
    except QuantityError as refused:
        assert refused.say("en") and refused.say("es")
    else:
        assert quantity.unit in UNITS
