"""An amount as a person types it, with its unit."""

from typing import Any

from django.utils.translation import get_language
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from shared.quantities import Quantity, QuantityError, parse

LONGEST = 100


@extend_schema_field({"type": "string", "maxLength": LONGEST})
class AmountField(serializers.Field):
    """Such as `1.5 gal`; of one of these dimensions."""

    def __init__(self, *dimensions: str, **kwargs: Any) -> None:
        self.dimensions = dimensions
        kwargs.setdefault("help_text", "With its unit, such as `1.5 gal`.")
        super().__init__(**kwargs)

    def to_internal_value(self, data: Any) -> Quantity:
        if not isinstance(data, str) or len(data) > LONGEST:
            raise serializers.ValidationError("Send an amount with its unit as a text.")
        try:
            return parse(data, self.dimensions)
        except QuantityError as error:
            raise serializers.ValidationError(error.say((get_language() or "en")[:2])) from error

    def to_representation(self, value: Quantity) -> str:
        return f"{value.value} {value.unit}"
