"""What every kind of member can do: read JSON, read typed text, say itself in JSON Schema.

An instance stands in the annotation of a member (`Annotated[str, Text()]`), where pydantic finds it.
"""

import json
from abc import ABC, abstractmethod
from typing import Any, ClassVar

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

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
    """What a member may hold. `is_json`: its values stand in JSON as they are."""

    name: ClassVar[str]
    is_json: ClassVar[bool] = True

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
        as_json = core_schema.plain_serializer_function_ser_schema(as_json_value)
        return core_schema.no_info_plain_validator_function(
            self._read_for_pydantic, serialization=None if self.is_json else as_json
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


def text_of(value: object) -> str:
    """The value if it is text. Raises MisreadError, for a number with the text to write instead."""
    if isinstance(value, str):
        return value
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    raise MisreadError(
        "document/number_not_text" if is_number else "document/not_text", {"got": shown(value)}
    )
