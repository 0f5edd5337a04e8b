"""The kinds of member: how each is read from JSON, read from typed text, and said in JSON Schema.

An instance stands in the annotation of a member (`Annotated[str, Text()]`), where pydantic finds it.
"""

import json
import re
from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, ClassVar

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from records.document.fault_wordings import WORDINGS
from records.document.words import WORD_LISTS
from shared import quantities, times
from shared.quantities import Quantity, QuantityError
from shared.times import TimeError
from shared.wording import Blanks

JsonSchema = dict[str, Any]


class MisreadError(ValueError):
    """A value that is not of the kind that its member asks for."""

    def __init__(self, wording_id: str, blanks: Blanks) -> None:
        super().__init__(wording_id)
        self.wording_id = wording_id
        self.blanks = blanks


def shown(value: object) -> str:
    """A value as a fault quotes it: JSON, at most 60 characters."""
    text = json.dumps(value, default=repr, ensure_ascii=False)
    text = text.encode("utf-8", "backslashreplace").decode()
    return text if len(text) <= 60 else text[:57] + "..."


class Kind(ABC):
    """What a member may hold."""

    name: ClassVar[str]

    @abstractmethod
    def read(self, value: object) -> Any:
        """The value that the document's types hold, from a JSON value. Raises MisreadError."""

    @abstractmethod
    def json_schema(self) -> JsonSchema:
        """The JSON Schema of the values that `read` takes, as far as it can be said there."""

    def parse(self, text: str) -> object:
        """A JSON value for `read`, from text as a person typed it. Raises MisreadError."""
        return text.strip()

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self._read_for_pydantic,
            serialization=core_schema.plain_serializer_function_ser_schema(as_json_value),
        )

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchema:
        return self.json_schema()

    def _read_for_pydantic(self, value: object) -> Any:
        try:
            return self.read(value)
        except (MisreadError, QuantityError, TimeError) as error:
            context = {"wording": error.wording_id, "blanks": dict(error.blanks)}
            raise PydanticCustomError("misread", "misread", context) from None


def as_json_value(value: object) -> object:
    """A member's value as JSON holds it."""
    return value.as_json() if isinstance(value, Quantity) else value


def _text(value: object) -> str:
    if isinstance(value, str):
        return value
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    raise MisreadError(
        "document/number_not_text" if is_number else "document/not_text", {"got": shown(value)}
    )


@dataclass(frozen=True)
class Measured(Kind):
    """A quantity of one of these dimensions; `above_zero` where nothing at all makes no sense."""

    dimensions: tuple[str, ...]
    above_zero: bool = False
    name: ClassVar[str] = "quantity"

    def read(self, value: object) -> Quantity:
        quantity = quantities.read(value, self.dimensions)
        if self.above_zero and not quantity.exact:
            raise MisreadError("document/zero", {"got": quantity})
        return quantity

    def parse(self, text: str) -> object:
        try:
            return quantities.parse(text, self.dimensions).as_json()
        except QuantityError as error:
            raise MisreadError(error.wording_id, error.blanks) from error

    def json_schema(self) -> JsonSchema:
        return quantity_schema(self.dimensions, self.above_zero)


def quantity_schema(dimensions: tuple[str, ...], above_zero: bool = False) -> JsonSchema:
    """The JSON Schema of a quantity of one of these dimensions."""
    units = [unit for dimension in dimensions for unit in quantities.units_of(dimension)]
    sign = "-?" if dimensions == ("temperature",) else ""
    value: JsonSchema = {"type": "string", "pattern": f"^{sign}(0|[1-9][0-9]{{0,11}})(\\.[0-9]{{1,9}})?$"}
    if above_zero or dimensions == ("area",):
        value["not"] = {"pattern": "^0(\\.0+)?$"}
    return {
        "type": "object",
        "properties": {"value": value, "unit": {"enum": units}},
        "required": ["value", "unit"],
        "additionalProperties": False,
    }


@dataclass(frozen=True)
class Word(Kind):
    """A word of a closed list (`words.WORD_LISTS`)."""

    word_list: str
    name: ClassVar[str] = "word"

    def read(self, value: object) -> str:
        word = _text(value)
        if word not in WORD_LISTS[self.word_list]:
            allowed = ", ".join(WORD_LISTS[self.word_list])
            raise MisreadError("document/unknown_word", {"allowed": allowed, "got": shown(word)})
        return word

    def json_schema(self) -> JsonSchema:
        return {"enum": list(WORD_LISTS[self.word_list])}


_CONTROL_PATTERN = r"[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]"
_CONTROL = re.compile(_CONTROL_PATTERN)


@dataclass(frozen=True)
class Text(Kind):
    """Open text: not blank, no control characters but tab and line ends, at most `most` characters."""

    most: int = 2000
    name: ClassVar[str] = "text"

    def read(self, value: object) -> str:
        text = _text(value)
        if len(text) > self.most:
            raise MisreadError("document/text_too_long", {"most": str(self.most), "count": str(len(text))})
        if not text.strip():
            raise MisreadError("document/blank_text", {})
        if found := _CONTROL.search(text):
            raise MisreadError("document/control_character", {"got": f"U+{ord(found[0]):04X}"})
        return text

    def json_schema(self) -> JsonSchema:
        without_control = {"not": {"pattern": _CONTROL_PATTERN}}
        return {"type": "string", "maxLength": self.most, "pattern": "\\S", **without_control}


@dataclass(frozen=True)
class Formed(Kind):
    """Text of a fixed form; `form` names it in the wordings (`form/uuid`)."""

    form: str
    pattern: str
    example: str
    name: ClassVar[str] = "text"

    def read(self, value: object) -> str:
        text = _text(value)
        if not re.fullmatch(self.pattern, text):
            what = WORDINGS[f"form/{self.form}"]
            raise MisreadError(
                "document/not_of_form", {"what": what, "example": self.example, "got": shown(text)}
            )
        return text

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "pattern": f"^({self.pattern})$"}


@dataclass(frozen=True)
class Decimals(Kind):
    """A number written as text, 0 or more; `least` and `most` where it is bounded."""

    least: str | None = None
    most: str | None = None
    name: ClassVar[str] = "number"

    def read(self, value: object) -> str:
        text = _text(value)
        pattern = self.json_schema()["pattern"].removesuffix("$")
        if not re.fullmatch(pattern, text):
            what = WORDINGS["form/number"]
            raise MisreadError("document/not_of_form", {"what": what, "example": '"2.5"', "got": shown(text)})
        if self.least and self.most and not Decimal(self.least) <= Decimal(text) <= Decimal(self.most):
            raise MisreadError("document/out_of_range", {"least": self.least, "most": self.most, "got": text})
        return text

    def parse(self, text: str) -> object:
        return text.strip().replace(",", ".")

    def json_schema(self) -> JsonSchema:
        sign = "-?" if self.least else ""
        return {"type": "string", "pattern": f"^{sign}(0|[1-9][0-9]{{0,11}})(\\.[0-9]{{1,9}})?$"}


@dataclass(frozen=True)
class Time(Kind):
    """An RFC 3339 time with offset, kept as written."""

    name: ClassVar[str] = "time"

    def read(self, value: object) -> str:
        times.read_time(_text(value))
        return str(value)

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "format": "date-time", "pattern": f"^{times.TIME_PATTERN}$"}


@dataclass(frozen=True)
class Day(Kind):
    """A day, such as 2026-09-14."""

    name: ClassVar[str] = "day"

    def read(self, value: object) -> str:
        times.read_day(_text(value))
        return str(value)

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "format": "date", "pattern": f"^{times.DAY_PATTERN}$"}


@dataclass(frozen=True)
class Zone(Kind):
    """The name of an IANA time zone."""

    name: ClassVar[str] = "zone"

    def read(self, value: object) -> str:
        times.read_zone(_text(value))
        return str(value)

    def json_schema(self) -> JsonSchema:
        return {"type": "string"}


@dataclass(frozen=True)
class Flag(Kind):
    """True or false."""

    name: ClassVar[str] = "flag"

    _TYPED: ClassVar[Mapping[str, bool]] = {"true": True, "false": False}

    def read(self, value: object) -> bool:
        if not isinstance(value, bool):
            raise MisreadError("document/not_a_flag", {"got": shown(value)})
        return value

    def parse(self, text: str) -> object:
        return self._TYPED.get(text.strip().lower(), text)

    def json_schema(self) -> JsonSchema:
        return {"type": "boolean"}


@dataclass(frozen=True)
class Whole(Kind):
    """A whole number that counts (a version, bytes): a JSON number, 0 to 2**53 - 1."""

    name: ClassVar[str] = "whole"

    def read(self, value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < 2**53:
            raise MisreadError("document/not_a_whole_number", {"got": shown(value)})
        return value

    def parse(self, text: str) -> object:
        text = text.strip()
        return int(text) if re.fullmatch(r"[0-9]{1,15}", text) else text

    def json_schema(self) -> JsonSchema:
        return {"type": "integer", "minimum": 0, "maximum": 2**53 - 1}


@dataclass(frozen=True)
class Exactly(Kind):
    """This very text."""

    text: str
    name: ClassVar[str] = "fixed"

    def read(self, value: object) -> str:
        if value != self.text:
            raise MisreadError("document/not_this_text", {"expected": shown(self.text), "got": shown(value)})
        return self.text

    def json_schema(self) -> JsonSchema:
        return {"const": self.text}
