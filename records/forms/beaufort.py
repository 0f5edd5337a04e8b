"""The wind by what is seen: forces 0 to 6, each with its range and what it does outdoors.

Ranges: WMO-No. 306, Volume I.1, section E, in knots and metres a second; in miles an hour as the National
Weather Service prints them; in kilometres an hour from memory. They are of the wind at 10 m: at the height of a
hand it is less. No decimal is made up: each unit has its own printed range.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

ESTIMATE = "estimate"
CALM = 0
RANGES: dict[str, tuple[tuple[str, str], ...]] = {
    "knot": (("0", "1"), ("1", "3"), ("4", "6"), ("7", "10"), ("11", "16"), ("17", "21"), ("22", "27")),
    "mph": (("0", "1"), ("1", "3"), ("4", "7"), ("8", "12"), ("13", "18"), ("19", "24"), ("25", "31")),
    "m/s": (
        ("0", "0.2"),
        ("0.3", "1.5"),
        ("1.6", "3.3"),
        ("3.4", "5.4"),
        ("5.5", "7.9"),
        ("8.0", "10.7"),
        ("10.8", "13.8"),
    ),
    "km/h": (("0", "1"), ("1", "5"), ("6", "11"), ("12", "19"), ("20", "28"), ("29", "38"), ("39", "49")),
}
SEEN: tuple[str | Promise, ...] = (
    _("Smoke goes straight up"),
    _("Smoke drifts, a vane stays still"),
    _("Felt on the face, leaves rustle"),
    _("Leaves and twigs move all the time, a light flag stands out"),
    _("Dust and loose paper rise"),
    _("Small trees in leaf sway"),
    _("Large branches move, wires whistle"),
)


@dataclass(frozen=True)
class Force:
    """One force with what is seen of it, and its range in one unit."""

    number: int
    unit: str

    @property
    def sees(self) -> str | Promise:
        return SEEN[self.number]

    @property
    def least(self) -> dict[str, str]:
        return {"value": RANGES[self.unit][self.number][0], "unit": self.unit}

    @property
    def most(self) -> dict[str, str]:
        return {"value": RANGES[self.unit][self.number][1], "unit": self.unit}

    @property
    def is_calm(self) -> bool:
        return self.number == CALM

    def members(self) -> dict[str, Any]:
        """What it says of a reading: the upper end of its range, to be careful, and that it is an estimate."""
        speed = None if self.is_calm else self.most
        return {"calm": self.is_calm, "wind_speed": speed, "source": ESTIMATE}


def forces_in(unit: str) -> Sequence[Force]:
    return [Force(number, unit if unit in RANGES else "mph") for number in range(len(SEEN))]


def force_of(reading: Mapping[str, Any]) -> Force | None:
    """The force that a reading was estimated by; None where it was measured, or another number stands there."""
    if reading.get("source") != ESTIMATE:
        return None
    speed = reading.get("wind_speed")
    if speed is None:
        return Force(CALM, "mph") if reading.get("calm") is True else None
    unit = speed.get("unit") if isinstance(speed, dict) else ""
    return next((force for force in forces_in(unit) if force.most == speed and not force.is_calm), None)
