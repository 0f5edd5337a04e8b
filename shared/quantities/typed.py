"""Reading a quantity from what a person typed.

The digits are kept as entered, but for the marks that make them readable: a decimal comma becomes a point,
and separators of thousands go. `1,200` can mean two things and is asked about.
"""

import re

from shared.quantities.errors import QuantityError, no_unit, unknown_unit, wrong_dimension
from shared.quantities.quantity import Quantity
from shared.quantities.reading import expected_dimensions
from shared.quantities.spellings import unit_named
from shared.quantities.units import UNITS, units_of
from shared.wording import Wording, shortened

_LONGEST = 200
_SPACES = re.compile(r"[\s\u00a0\u2007\u2009\u202f]+")
_NUMBER_THEN_UNIT = re.compile(r"([-+]?)([0-9.,](?:[0-9., ]*[0-9.,])?) ?(.*)")
_FRACTION = re.compile(r"[0-9] ?[/\N{FRACTION SLASH}] ?[0-9]|[\u00bc-\u00be\u2150-\u215e]")
_AMBIGUOUS = re.compile(r"([1-9][0-9]{0,2}),([0-9]{3})")
_GROUPED = (
    (re.compile(r"[0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]+)?"), " "),
    (re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+\.[0-9]+|[0-9]{1,3}(?:,[0-9]{3}){2,}"), ","),
    (re.compile(r"[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+|[0-9]{1,3}(?:\.[0-9]{3}){2,}"), "."),
)
_SINGLE = re.compile(r"([0-9]*)(?:[.,]([0-9]+))?")


def parse(text: str, dimension: str | tuple[str, ...] | None = None) -> Quantity:
    """The quantity that a person typed: `2600 sq ft`, `1,3 gal/(100 ft**2)`, `61 °F`.

    `dimension` is the one expected, or several. Raises QuantityError.
    """
    dimensions = expected_dimensions(dimension)
    sign, digits, unit_text = _parts(text, _example(dimensions))
    if not unit_text:
        raise no_unit(text, dimensions)
    unit = unit_named(unit_text)
    if unit is None:
        raise unknown_unit(unit_text, dimensions, labelled=True)
    value = sign + parse_number(digits)
    if dimensions and UNITS[unit].dimension not in dimensions:
        got = Wording(*(f"{value} {UNITS[unit].label(language)}" for language in ("en", "es")))
        raise wrong_dimension(got, unit, dimensions)
    return Quantity(value, unit)


def parse_number(text: str) -> str:
    """The digits of a typed number as a quantity keeps them (`12,500.50` gives `12500.50`).

    Raises QuantityError where a lone comma could part thousands or decimals.
    """
    ambiguous = _AMBIGUOUS.fullmatch(text)
    if ambiguous:
        whole, decimal = "".join(ambiguous.groups()), ".".join(ambiguous.groups())
        blanks = {"value": text, "whole": whole, "decimal": decimal}
        raise QuantityError("quantity/ambiguous_comma", blanks)
    ungrouped = text
    for pattern, separator in _GROUPED:
        if pattern.fullmatch(text):
            ungrouped = text.replace(separator, "")
    matched = _SINGLE.fullmatch(ungrouped)
    if not matched:
        raise QuantityError("quantity/not_a_value", {"value": shortened(text)})
    whole, decimals = matched[1].lstrip("0") or "0", matched[2]
    return f"{whole}.{decimals}" if decimals else whole


def _parts(text: str, example: str) -> tuple[str, str, str]:
    if len(text) > _LONGEST:
        raise QuantityError("quantity/too_long", {"example": example})
    spaced = _SPACES.sub(" ", text).strip().replace("\N{MINUS SIGN}", "-")
    if not spaced:
        raise QuantityError("quantity/empty", {"example": example})
    if _FRACTION.search(spaced):
        raise QuantityError("quantity/fraction", {"text": shortened(spaced)})
    matched = _NUMBER_THEN_UNIT.fullmatch(spaced)
    if not matched:
        raise QuantityError("quantity/no_number", {"text": shortened(spaced), "example": example})
    sign, digits, unit_text = matched.groups()
    return sign.replace("+", ""), digits, unit_text


def _example(dimensions: tuple[str, ...]) -> str:
    return f"2.5 {UNITS[units_of((*dimensions, 'volume')[0])[0]].label('en')}"
