"""The same amounts in other units come to the same outcomes: every quantity is converted exactly."""

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shared.quantities import Quantity, QuantityError, units_of
from tests.compliance.rulebook.situations import (
    FEW,
    MANY,
    Situation,
    Steps,
    outcomes,
    places_of,
    replaced,
    situations,
)

MOST_DECIMALS = 9


def quantities_of(parts: dict[str, Any]) -> list[tuple[Steps, Quantity]]:
    return [
        (steps, Quantity(**value))
        for steps, value in places_of(parts)
        if isinstance(value, dict) and value.keys() == {"value", "unit"}
    ]


def as_written(value: Fraction) -> str | None:
    """The value in digits, if nine decimals write it exactly."""
    scaled = value * 10**MOST_DECIMALS
    if scaled.denominator != 1:
        return None
    whole, decimals = divmod(abs(scaled.numerator), 10**MOST_DECIMALS)
    text = f"{whole}.{decimals:0{MOST_DECIMALS}d}".rstrip("0").rstrip(".")
    return f"-{text}" if scaled < 0 else text


def same_in(unit: str, quantity: Quantity) -> Quantity | None:
    """The quantity in another unit, if it can be written exactly."""
    text = as_written(quantity.to(unit))
    try:
        return text and Quantity(text, unit)
    except QuantityError:
        return None


def ways_to_write(quantity: Quantity) -> list[Quantity]:
    """The quantity in every unit in which it can be written exactly, its own first."""
    others = (same_in(unit, quantity) for unit in units_of(quantity.dimension))
    return [quantity, *(other for other in others if other and other.unit != quantity.unit)]


def convert(situation: Situation, data: st.DataObject) -> None:
    parts = situation.parts
    before, converted = outcomes(parts), parts
    for steps, quantity in quantities_of(parts):
        other = data.draw(st.sampled_from(ways_to_write(quantity)))
        assert other.base == quantity.base
        converted = replaced(converted, steps, other.as_json())
    assume(before)
    assert outcomes(converted) == before


@FEW
@given(st.sampled_from(situations()), st.data())
def test_other_units_change_no_outcome(situation: Situation, data: st.DataObject) -> None:
    convert(situation, data)


@pytest.mark.long
@MANY
@given(st.sampled_from(situations()), st.data())
def test_other_units_change_no_outcome_of_any_example(situation: Situation, data: st.DataObject) -> None:
    convert(situation, data)


def test_what_can_be_written_exactly_is_written_in_several_units() -> None:
    """1 mile is 1.609344 km, a knot 1.852 km/h (NIST SP 811, appendix B); 61 °F are no decimal number of °C."""
    assert {one.unit: one.value for one in ways_to_write(Quantity("10", "mph"))} == {
        "mph": "10",
        "m/s": "4.4704",
        "km/h": "16.09344",
        "km/hour": "16.09344",
    }
    assert [one.unit for one in ways_to_write(Quantity("61", "degF"))] == ["degF"]
    assert Quantity("10", "degC") in ways_to_write(Quantity("50", "degF"))
