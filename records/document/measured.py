"""The kind of member that holds a quantity."""

from dataclasses import dataclass
from typing import ClassVar

from records.document.kind import JsonSchema, Kind, MisreadError
from shared import quantities
from shared.quantities import Quantity, QuantityError


@dataclass(frozen=True)
class Measured(Kind):
    """A quantity of one of these dimensions; `above_zero` where nothing at all makes no sense."""

    dimensions: tuple[str, ...]
    above_zero: bool = False
    name: ClassVar[str] = "quantity"
    is_json: ClassVar[bool] = False

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
