"""Quantities with units: read, typed, converted and compared exactly, said in English and Spanish.

No floating-point number occurs. Digits stay as entered; rounding is for display only.
"""

from shared.quantities.errors import QuantityError
from shared.quantities.quantity import Quantity, compare, from_base, from_fraction, quotient
from shared.quantities.reading import of_dimension, read
from shared.quantities.typed import parse, parse_number
from shared.quantities.units import BASE_UNITS, UNITS, Unit, units_of
from shared.quantities.wordings import DIMENSIONS, WORDINGS

__all__ = [
    "BASE_UNITS",
    "DIMENSIONS",
    "UNITS",
    "WORDINGS",
    "Quantity",
    "QuantityError",
    "Unit",
    "compare",
    "from_base",
    "from_fraction",
    "of_dimension",
    "parse",
    "parse_number",
    "quotient",
    "read",
    "say",
    "units_of",
]


def say(quantity: Quantity, language: str) -> str:
    """The quantity as a person reads it in this language: `2600 ft²`, `2600 pies²`."""
    return quantity.say(language)
