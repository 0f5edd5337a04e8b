"""Reading a quantity from a treatment document's JSON, strictly."""

import json
from typing import cast

from shared.quantities.errors import QuantityError, unknown_unit, wrong_dimension
from shared.quantities.quantity import Quantity
from shared.quantities.units import UNITS
from shared.wording import shortened

_MEMBERS = ("value", "unit")


def read(value: object, dimension: str | tuple[str, ...] | None = None) -> Quantity:
    """The quantity that a JSON object states: `{"value": "2.5", "unit": "gal"}`, both as text.

    `dimension` is the one expected, or several. Raises QuantityError.
    """
    members = _text_members(value)
    if members["unit"] not in UNITS:
        raise unknown_unit(members["unit"], expected_dimensions(dimension))
    return of_dimension(Quantity(members["value"], members["unit"]), dimension)


def expected_dimensions(dimension: str | tuple[str, ...] | None) -> tuple[str, ...]:
    """The expected dimensions as a tuple; empty where any will do."""
    if dimension is None:
        return ()
    return (dimension,) if isinstance(dimension, str) else dimension


def of_dimension(quantity: Quantity, dimension: str | tuple[str, ...] | None) -> Quantity:
    """The same quantity, if it is of an expected dimension. Raises QuantityError."""
    dimensions = expected_dimensions(dimension)
    if dimensions and quantity.dimension not in dimensions:
        raise wrong_dimension(quantity, quantity.unit, dimensions)
    return quantity


def _text_members(value: object) -> dict[str, str]:
    if not isinstance(value, dict):
        raise QuantityError("quantity/not_an_object", {"got": _shown(value)})
    for member in value:
        if member not in _MEMBERS:
            raise QuantityError("quantity/unknown_member", {"member": shortened(str(member))})
    for member in _MEMBERS:
        if value.get(member) is None:
            raise QuantityError("quantity/missing_member", {"member": member})
        if not isinstance(value[member], str):
            raise QuantityError("quantity/not_text", {"member": member, "got": _shown(value[member])})
    return cast(dict[str, str], value)


def _shown(value: object) -> str:
    return shortened(json.dumps(value, ensure_ascii=False, default=repr))
