"""A Django form field for one quantity: a number as typed and its unit."""

import re
from typing import Any

from django import forms
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from shared.quantities import UNITS, Quantity, QuantityError, parse, units_of

_LONE_POINT = re.compile(r"([1-9][0-9]{0,2})\.([0-9]{3})(?![0-9.,])")


def unit_choices(dimensions: tuple[str, ...], language: str) -> list[tuple[str, str]]:
    """The units of these dimensions with their labels, each label once."""
    choices: dict[str, str] = {}
    for dimension in dimensions:
        for unit in units_of(dimension):
            choices.setdefault(UNITS[unit].label(language), unit)
    return [(unit, label) for label, unit in choices.items()]


def read_typed(number: str, unit: str, dimensions: tuple[str, ...]) -> Quantity:
    """The quantity that a person means by a number and a chosen unit.

    A unit that was typed behind the number outranks the chosen one. Raises QuantityError.
    """
    _ask_about_the_point(number.strip())
    try:
        return parse(f"{number} {unit}", dimensions)
    except QuantityError as error:
        try:
            return parse(number, dimensions)
        except QuantityError as other:
            raise (error if other.wording_id.startswith("quantity/no_unit") else other) from None


def _ask_about_the_point(number: str) -> None:
    """Where a comma parts the decimals, `1.500` can mean two things, as `1,500` does everywhere."""
    lone = _LONE_POINT.match(number) if (get_language() or "en").startswith("es") else None
    if lone:
        whole, decimals = lone.groups()
        meant = decimals.rstrip("0") if decimals.endswith("0") else f"{decimals}0"
        blanks = {"value": lone[0], "whole": whole + decimals, "decimal": f"{whole},{meant}".rstrip(",")}
        raise QuantityError("quantity/ambiguous_comma", blanks)


class NumberAndUnit(forms.MultiWidget):
    template_name = "records/widgets/quantity.html"
    use_fieldset = False

    def __init__(self, dimensions: tuple[str, ...], unit: str) -> None:
        self.dimensions = dimensions
        self.first_unit = unit
        number = forms.TextInput({"inputmode": "decimal", "class": "number", "autocomplete": "off"})
        super().__init__([number, forms.Select({"aria-label": _("Unit")})])

    def get_context(self, name: str, value: Any, attrs: dict[str, Any] | None) -> dict[str, Any]:
        self.widgets[1].choices = unit_choices(self.dimensions, get_language() or "en")
        return super().get_context(name, value, attrs)

    def decompress(self, value: Quantity | None) -> list[str]:
        return [value.value, value.unit] if value else ["", self.first_unit]

    def id_for_label(self, id_: str) -> str:
        return f"{id_}_0"


class TypedQuantityField(forms.Field):
    """A quantity of one of `dimensions`; `unit` is chosen at first."""

    def __init__(self, *dimensions: str, unit: str, **kwargs: Any) -> None:
        self.dimensions = dimensions
        super().__init__(widget=NumberAndUnit(dimensions, unit), **kwargs)

    def clean(self, value: Any) -> Quantity | None:
        number, unit = [part or "" for part in value or ["", ""]]
        if not number.strip():
            if self.required:
                raise forms.ValidationError(self.error_messages["required"], code="required")
            return None
        try:
            return read_typed(number, unit, self.dimensions)
        except QuantityError as error:
            raise forms.ValidationError(error.say(get_language() or "en"), code="misread") from error
