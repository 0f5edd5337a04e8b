"""What the register is asked for. Pure."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import date
from typing import Any

from shared.quantities import Quantity, parse


@dataclass(frozen=True, kw_only=True)
class RegisterFilter:
    """What is empty lets everything through. Both days count; of names each typed word must be in one.

    `finding` is a rule's id; `wind_least` and `wind_most` are of the strongest wind that was read.
    """

    day_from: date | None = None
    day_to: date | None = None
    place: str = ""
    county: str = ""
    site: str = ""
    customer: str = ""
    product: str = ""
    registration: str = ""
    ingredient: str = ""
    applicator: str = ""
    licence: str = ""
    outcome: str = ""
    finding: str = ""
    incident: str = ""
    result: str = ""
    state: str = ""
    wind_least: Quantity | None = None
    wind_most: Quantity | None = None
    words: str = ""

    def as_json(self) -> dict[str, str]:
        """What it asks for, and nothing of what it does not."""
        given = {each.name: getattr(self, each.name) for each in fields(self)}
        return {name: _written(value) for name, value in given.items() if value}


def filter_of(stored: Mapping[str, str]) -> RegisterFilter:
    """The filter that `as_json` wrote. Raises ValueError for what it never writes."""
    readers: dict[str, Any] = {
        "day_from": date.fromisoformat,
        "day_to": date.fromisoformat,
        "wind_least": _speed,
        "wind_most": _speed,
    }
    if unknown := set(stored) - {each.name for each in fields(RegisterFilter)}:
        raise ValueError(f"not asked for in a register: {', '.join(sorted(unknown))}")
    return RegisterFilter(**{name: readers.get(name, str)(value) for name, value in stored.items()})


def _written(value: date | Quantity | str) -> str:
    if isinstance(value, Quantity):
        return f"{value.value} {value.unit}"
    return value.isoformat() if isinstance(value, date) else value


def _speed(text: str) -> Quantity:
    return parse(text, "speed")
