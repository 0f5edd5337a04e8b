"""The bounds of a label's limit: what they are measured in depends on what is limited."""

import re
from dataclasses import dataclass
from typing import Any, ClassVar

from pydantic import GetCoreSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema, core_schema

from records.document.fault_wordings import WORDINGS
from records.document.kind import JsonSchema, Kind, MisreadError, as_json_value, shown
from records.document.measured import Measured, quantity_schema
from records.document.words import LIMIT_DIMENSIONS
from shared import quantities
from shared.quantities import Quantity
from shared.wording import Blanks

_COUNT = r"(0|[1-9][0-9]{0,11})"


@dataclass(frozen=True)
class Bound(Kind):
    """A quantity in what the limit is measured in; for `applications_per_year` a count as text."""

    of: str | None = None
    name: ClassVar[str] = "bound"

    def read(self, value: object) -> Quantity | str:
        if self.of is None:
            return _count(value) if isinstance(value, str) else quantities.read(value)
        if self.of == "applications_per_year":
            return _count(value)
        return Measured(LIMIT_DIMENSIONS[self.of]).read(value)

    def parse(self, text: str) -> object:
        if re.fullmatch(_COUNT, text.strip()):
            return text.strip()
        return Measured(LIMIT_DIMENSIONS.get(self.of or "", ())).parse(text)

    def json_schema(self) -> JsonSchema:
        return {"type": ["object", "string"]}

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(
            _read_beside_of, serialization=core_schema.plain_serializer_function_ser_schema(as_json_value)
        )


def limit_conditions() -> JsonSchema:
    """What JSON Schema says of a limit as a whole: how its bounds are written for each thing limited."""
    bounds = {of: quantity_schema(dimensions) for of, dimensions in LIMIT_DIMENSIONS.items()}
    bounds["applications_per_year"] = {"type": "string", "pattern": f"^{_COUNT}$"}
    return {
        "allOf": [
            {
                "if": {"properties": {"of": {"const": of}}, "required": ["of"]},
                "then": {"properties": {key: {"anyOf": [bound, {"type": "null"}]} for key in ("min", "max")}},
            }
            for of, bound in bounds.items()
        ]
    }


def _read_beside_of(value: object, info: ValidationInfo) -> Any:
    return Bound(info.data.get("of"))._read_for_pydantic(value)


def _count(value: object) -> str:
    if not isinstance(value, str) or not re.fullmatch(_COUNT, value):
        blanks: Blanks = {"what": WORDINGS["form/count"], "example": '"2"', "got": shown(value)}
        raise MisreadError("document/not_of_form", blanks)
    return value
