"""A direction by the points of the compass."""

from dataclasses import dataclass
from typing import Any, ClassVar

from django.utils.translation import gettext_lazy

from records.forms.controls import Choice, OneOf, Typed

POINTS = {
    "0": gettext_lazy("N"),
    "22.5": gettext_lazy("NNE"),
    "45": gettext_lazy("NE"),
    "67.5": gettext_lazy("ENE"),
    "90": gettext_lazy("E"),
    "112.5": gettext_lazy("ESE"),
    "135": gettext_lazy("SE"),
    "157.5": gettext_lazy("SSE"),
    "180": gettext_lazy("S"),
    "202.5": gettext_lazy("SSW"),
    "225": gettext_lazy("SW"),
    "247.5": gettext_lazy("WSW"),
    "270": gettext_lazy("W"),
    "292.5": gettext_lazy("WNW"),
    "315": gettext_lazy("NW"),
    "337.5": gettext_lazy("NNW"),
}
"""The letters of the points, as they stand on a dial."""


@dataclass(frozen=True)
class Compass(OneOf):
    """A direction by the points of the compass, kept in degrees clockwise from true north."""

    choices: tuple[Choice, ...] = (
        ("0", gettext_lazy("north")),
        ("22.5", gettext_lazy("north-north-east")),
        ("45", gettext_lazy("north-east")),
        ("67.5", gettext_lazy("east-north-east")),
        ("90", gettext_lazy("east")),
        ("112.5", gettext_lazy("east-south-east")),
        ("135", gettext_lazy("south-east")),
        ("157.5", gettext_lazy("south-south-east")),
        ("180", gettext_lazy("south")),
        ("202.5", gettext_lazy("south-south-west")),
        ("225", gettext_lazy("south-west")),
        ("247.5", gettext_lazy("west-south-west")),
        ("270", gettext_lazy("west")),
        ("292.5", gettext_lazy("west-north-west")),
        ("315", gettext_lazy("north-west")),
        ("337.5", gettext_lazy("north-north-west")),
    )

    def shown(self, value: Any) -> Typed:
        return (str(value.get("value", "")) if isinstance(value, dict) else "",)

    def read(self, typed: Typed) -> Any:
        return {"value": typed[0], "unit": "degree"} if typed[0] else None

    template: ClassVar[str] = "dial"

    def is_between(self, typed: Typed) -> bool:
        """Whether the direction is none of the points."""
        return bool(typed[0]) and typed[0] not in POINTS

    def offered(self, typed: Typed) -> list[Choice]:
        known = {choice for choice, _label in self.choices}
        return [*self.choices, *((value, f"{value}°") for value in typed if value and value not in known)]
