"""The units that a phone compares in, with exact factors as `numerator/denominator`. Pure."""

from collections.abc import Iterable
from typing import Any

from shared.quantities import UNITS, units_of
from shared.wording import LANGUAGES


def units_on_the_phone(dimensions: Iterable[str]) -> dict[str, Any]:
    """Each unit of these dimensions (base value = factor x value + offset); `one` is its label for 1."""
    names = [name for dimension in dimensions for name in units_of(dimension)]
    return {name: _unit(name) for name in names}


def _unit(name: str) -> dict[str, Any]:
    unit = UNITS[name]
    return {
        "dimension": unit.dimension,
        "factor": f"{unit.factor.numerator}/{unit.factor.denominator}",
        "offset": f"{unit.offset.numerator}/{unit.offset.denominator}",
        "label": {language: unit.label(language) for language in LANGUAGES},
        "one": {language: unit.label(language, one=True) for language in LANGUAGES},
    }
