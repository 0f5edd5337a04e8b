"""What a button would fill in, told to the script that does it where there is no connection: name, text."""

from typing import Any

from records.forms.bound import Field
from records.forms.controls import SomeOf

Fills = list[list[str]]


def fills_for(field: Field, value: Any) -> Fills:
    """The inputs of the field, each with what stands in it for the value."""
    shown = field.control.shown(value)
    if isinstance(field.control, SomeOf):
        return [[f"v:{field.path}", word] for word in shown]
    names = (*field.control.parts, *([field.control.more] if field.control.more else []))
    return [[f"{part}:{field.path}", text] for part, text in zip(names, shown, strict=False)]
