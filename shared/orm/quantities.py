"""Columns that hold quantities: as entered with their unit, or projected into one base unit for sums."""

from decimal import ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import get_language

from shared.quantities import UNITS, Quantity, QuantityError, parse, units_of

Dimension = str | tuple[str, ...]


def parse_typed(text: str, dimension: Dimension) -> Quantity:
    """Read typed text as a quantity; raises ValidationError worded in the reader's language."""
    try:
        return parse(text, dimension)
    except QuantityError as error:
        raise ValidationError(error.say(get_language() or "en"), code="quantity") from error


class QuantityFormField(forms.CharField):
    """A quantity typed with its unit, such as `1200 ft**2`; its digits are kept as typed."""

    def __init__(self, *, dimension: Dimension, **kwargs: Any) -> None:
        self.dimension = dimension
        super().__init__(**kwargs)

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        """An empty box shows that a unit belongs in it, and one that would do."""
        first = self.dimension if isinstance(self.dimension, str) else self.dimension[0]
        unit = UNITS[units_of(first)[0]].label(get_language() or "en")
        return {**super().widget_attrs(widget), "placeholder": f"… {unit}"}

    def prepare_value(self, value: Any) -> Any:
        return f"{value.value} {value.unit}" if isinstance(value, Quantity) else value

    def to_python(self, value: Any) -> Quantity | None:
        text = super().to_python(value)
        return parse_typed(text, self.dimension) if text else None

    def run_validators(self, value: Any) -> None:
        super().run_validators(self.prepare_value(value))

    def has_changed(self, initial: Any, data: Any) -> bool:
        return super().has_changed(self.prepare_value(initial), data)


class QuantityField(models.CharField):
    """A quantity with the digits and the unit in which it was entered, held as the text `1200 ft**2`."""

    def __init__(self, *args: Any, dimension: Dimension, **kwargs: Any) -> None:
        self.dimension = dimension
        kwargs.setdefault("max_length", 60)
        super().__init__(*args, **kwargs)

    def deconstruct(self) -> Any:
        name, path, args, kwargs = super().deconstruct()
        return name, path, args, {**kwargs, "dimension": self.dimension}

    def from_db_value(self, value: str | None, expression: Any, connection: Any) -> Quantity | None:
        return self.to_python(value)

    def to_python(self, value: Any) -> Quantity | None:
        if not value:
            return None
        return value if isinstance(value, Quantity) else parse_typed(value, self.dimension)

    def get_prep_value(self, value: Any) -> str | None:
        quantity = self.to_python(value)
        return None if quantity is None else f"{quantity.value} {quantity.unit}"

    def value_to_string(self, obj: models.Model) -> str:
        return self.get_prep_value(self.value_from_object(obj)) or ""

    def run_validators(self, value: Any) -> None:
        super().run_validators(self.get_prep_value(value))

    def formfield(self, **kwargs: Any) -> Any:
        options = {"form_class": QuantityFormField, "dimension": self.dimension, "empty_value": None}
        return super().formfield(**{**options, **kwargs})


class ProjectedQuantityField(models.DecimalField):
    """A quantity in the base unit of its dimension, so that SQL can filter and add up.

    Every unit of area, volume and mass is an exact decimal of its base unit. PostgreSQL keeps twelve places
    exactly; SQLite keeps fifteen significant digits.
    """

    PLACES = Decimal("1e-12")

    def __init__(self, *args: Any, dimension: str, **kwargs: Any) -> None:
        self.dimension = dimension
        super().__init__(*args, **{"max_digits": 32, "decimal_places": 12, **kwargs})

    def deconstruct(self) -> Any:
        name, path, args, kwargs = super().deconstruct()
        return name, path, args, {**kwargs, "dimension": self.dimension}


def projected(base: Fraction | None) -> Decimal | None:
    """An exact amount in its base unit, to twelve places; None stays None."""
    if base is None:
        return None
    context = Context(prec=60, rounding=ROUND_HALF_EVEN)
    ratio = context.divide(Decimal(base.numerator), Decimal(base.denominator))
    return ratio.quantize(ProjectedQuantityField.PLACES, context=context)
