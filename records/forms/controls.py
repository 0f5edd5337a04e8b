"""Controls: how a member's value is shown for typing, and read back.

What stands in a control is a tuple of texts (`Typed`), one for each of its inputs, or one for each tick.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from django.utils.translation import get_language, gettext_lazy

from records.forms.typed_quantity import read_typed, unit_choices
from shared.quantities import QuantityError

Typed = tuple[str, ...]
Choice = tuple[str, Any]

RADIOS_AT_MOST = 6


@dataclass(frozen=True)
class Control:
    """One line of text; the base of all."""

    template: ClassVar[str] = "text"
    parts: ClassVar[tuple[str, ...]] = ("v",)
    more: ClassVar[str] = ""
    """The name of an input that a page has only where it is needed."""

    def completed(self, typed: Typed, more: str) -> Typed:
        """What stands in the inputs, with what came of the one more."""
        return typed

    def shown(self, value: Any) -> Typed:
        """What stands in the inputs for a JSON value, or for what was typed and not understood."""
        return ("" if value is None else str(value),)

    def read(self, typed: Typed) -> Any:
        """A JSON value, None where nothing was entered; what cannot be read comes back as typed."""
        return typed[0].strip() or None

    def is_in_other_unit(self, typed: Typed, shown: Typed) -> bool:
        return False

    def sentence(self, typed: Typed) -> str:
        """What is wrong with it in words for a form, where the document's own sentence would not help."""
        return ""

    def spoken(self, sentence: str) -> str:
        """The document's own sentence about a value, as it is said on a form."""
        return sentence


@dataclass(frozen=True)
class LongText(Control):
    """Several lines; they end alike, whichever way they were sent."""

    template: ClassVar[str] = "long"

    def read(self, typed: Typed) -> Any:
        return typed[0].replace("\r\n", "\n").strip() or None


@dataclass(frozen=True)
class Number(Control):
    template: ClassVar[str] = "number"

    def read(self, typed: Typed) -> Any:
        return typed[0].strip().replace(",", ".") or None


@dataclass(frozen=True)
class Measure(Control):
    """A number and its unit; the unit is kept as chosen, also while there is no number. Where it is `alone`, no
    other one is offered."""

    dimensions: tuple[str, ...]
    unit: str
    alone: bool = False
    template: ClassVar[str] = "quantity"
    parts: ClassVar[tuple[str, ...]] = ("v", "u")

    def shown(self, value: Any) -> Typed:
        if not isinstance(value, dict):
            return ("", self.unit) if value is None else (str(value), self.unit)
        return (str(value.get("value", "")), str(value.get("unit", self.unit)))

    def read(self, typed: Typed) -> Any:
        number, unit = typed[0].strip(), typed[1]
        if not number:
            return None
        try:
            return read_typed(number, unit, self.dimensions).as_json()
        except QuantityError as error:
            # A space behind keeps what can mean two things from being taken as one of them.
            space = " " if error.wording_id == "quantity/ambiguous_comma" and "," not in number else ""
            return {"value": f"{number}{space}", "unit": unit}

    def sentence(self, typed: Typed) -> str:
        if not typed[0].strip():
            return ""
        try:
            read_typed(typed[0], typed[1], self.dimensions)
        except QuantityError as error:
            return error.say((get_language() or "en")[:2])
        return ""

    def is_in_other_unit(self, typed: Typed, shown: Typed) -> bool:
        """Whether a unit was typed behind the number, so that the chosen one no longer holds."""
        return bool(typed[0].strip()) and typed[1] != shown[1]

    def units(self, language: str) -> list[tuple[str, str]]:
        units = unit_choices(self.dimensions, language)
        return [each for each in units if each[0] == self.unit] if self.alone else units


@dataclass(frozen=True)
class OneOf(Control):
    """One of few: radios where they fit, else a list to choose from. An unknown value stands as a choice."""

    choices: tuple[Choice, ...]

    @property
    def template(self) -> str:
        return "radios" if len(self.choices) <= RADIOS_AT_MOST else "select"

    def offered(self, typed: Typed) -> list[Choice]:
        known = {choice for choice, _label in self.choices}
        return [*self.choices, *((value, value) for value in typed if value and value not in known)]


@dataclass(frozen=True)
class YesNo(OneOf):
    choices: tuple[Choice, ...] = (("true", gettext_lazy("Yes")), ("false", gettext_lazy("No")))

    def shown(self, value: Any) -> Typed:
        return ("" if value is None else str(value).lower(),)

    def read(self, typed: Typed) -> Any:
        return {"true": True, "false": False, "": None}.get(typed[0], typed[0])


@dataclass(frozen=True)
class SomeOf(OneOf):
    """Any number of them. None ticked is left out: an empty list would say that there are none."""

    template: ClassVar[str] = "ticks"

    def shown(self, value: Any) -> Typed:
        return tuple(str(word) for word in value) if isinstance(value, list) else ()

    def read(self, typed: Typed) -> Any:
        return list(typed) or None


@dataclass(frozen=True)
class NoneOfThem(Control):
    """One tick that says of a list that there is none. Without it the list is left out: nobody has said."""

    says: Any
    template: ClassVar[str] = "none"

    def shown(self, value: Any) -> Typed:
        return ("none" if value == [] else "",)

    def read(self, typed: Typed) -> Any:
        return [] if typed[0] else None


@dataclass(frozen=True)
class Day(Control):
    template: ClassVar[str] = "day"


@dataclass(frozen=True)
class Amounts(Control):
    """One amount for each of `keys`, kept as a list of items `{key: …, amount: …}` without the empty ones.

    `items` are those that there are, whose other members stay.
    """

    key: str
    amount: str
    keys: tuple[Choice, ...]
    measure: Measure
    items: tuple[dict[str, Any], ...] = ()
    template: ClassVar[str] = "amounts"
    parts: ClassVar[tuple[str, ...]] = ("v", "u")

    def shown(self, value: Any) -> Typed:
        items = {item.get(self.key): item for item in value or [] if isinstance(item, dict)}
        texts: list[str] = []
        for key, _label in self.keys:
            texts += self.measure.shown(items.get(key, {}).get(self.amount))
        return tuple(texts)

    def pairs(self, typed: Typed) -> list[tuple[Choice, Typed]]:
        return [(key, typed[2 * at : 2 * at + 2]) for at, key in enumerate(self.keys)]

    def is_in_other_unit(self, typed: Typed, shown: Typed) -> bool:
        pairs = zip(self.pairs(typed), self.pairs(shown), strict=True)
        return any(self.measure.is_in_other_unit(one, other) for (_k, one), (_l, other) in pairs)

    def read(self, typed: Typed) -> Any:
        amounts = [(key, self.measure.read(pair)) for (key, _label), pair in self.pairs(typed)]
        there = {item.get(self.key): item for item in self.items}
        return [
            {**there.get(key, {}), self.key: key, self.amount: amount} for key, amount in amounts if amount
        ] or None

    def sentence(self, typed: Typed) -> str:
        sentences = (self.measure.sentence(pair) for _key, pair in self.pairs(typed))
        return next((sentence for sentence in sentences if sentence), "")


def typed_in(control: Control, path: str, posted: Any) -> Typed | None:
    """What a person left in a control, from posted form data; None where the control was not on the page, or
    only a part of it came."""
    if f"was:{path}" not in posted:
        return None
    if isinstance(control, SomeOf):
        return tuple(posted.getlist(f"v:{path}"))
    columns: Sequence[list[str]] = [posted.getlist(f"{part}:{path}") for part in control.parts]
    if not any(columns):
        return ("",) * len(control.parts)
    if len({len(column) for column in columns}) > 1:
        return None
    typed = tuple(text for row in zip(*columns, strict=True) for text in row)
    return control.completed(typed, posted.get(f"{control.more}:{path}", "")) if control.more else typed
