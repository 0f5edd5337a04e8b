"""Reading a quantity from JSON, strictly."""

import pytest

from shared.quantities import Quantity, QuantityError, read


def test_an_object_with_value_and_unit_is_a_quantity():
    assert read({"value": "2.5", "unit": "gal"}, "volume") == Quantity("2.5", "gal")


def test_any_dimension_will_do_where_none_is_expected():
    assert read({"value": "2.5", "unit": "psi"}) == Quantity("2.5", "psi")


def test_one_of_several_dimensions_will_do():
    assert read({"value": "2.5", "unit": "lb"}, ("volume", "mass")) == Quantity("2.5", "lb")


@pytest.mark.parametrize(
    ("given", "english", "spanish"),
    [
        ({"value": "3000", "unit": "gal"}, "expected an area, got 3000 gal",
         "se esperaba una superficie, se recibió 3000 gal"),
        ({"value": "3", "unit": "gallon"},
         "unknown unit gallon; the units for an area are ft**2, yd**2, acre, m**2, ha",
         "unidad desconocida gallon; las unidades para una superficie son ft**2, yd**2, acre, m**2, ha"),
        ({"value": "3"}, "a quantity needs unit", "a la cantidad le falta unit"),
        ({"value": None, "unit": "gal"}, "a quantity needs value", "a la cantidad le falta value"),
        ({"value": 3, "unit": "gal"}, "value must be text in quotation marks, got 3",
         "value debe ser texto entre comillas, se recibió 3"),
        ({"value": "3", "unit": "gal", "note": ""}, "unknown member note; a quantity has value and unit only",
         "miembro desconocido note; una cantidad solo tiene value y unit"),
        ("3 gal", 'expected a quantity such as {"value": "2.5", "unit": "gal"}, got "3 gal"',
         'se esperaba una cantidad como {"value": "2.5", "unit": "gal"}, se recibió "3 gal"'),
    ],
)  # fmt: skip
def test_what_is_no_such_quantity_is_refused_with_the_reason(given, english, spanish):
    with pytest.raises(QuantityError) as refused:
        read(given, "area")

    assert refused.value.say("en") == english
    assert refused.value.say("es") == spanish


def test_a_refusal_repeats_no_more_than_a_line_of_what_was_given():
    with pytest.raises(QuantityError) as refused:
        read({"value": "9" * 10_000, "unit": "gal"})

    assert len(str(refused.value)) < 250
