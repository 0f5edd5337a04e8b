"""The guide to the wind within a reading: forces to choose from, and the one that was chosen."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from records.forms.beaufort import Force, force_of, forces_in
from records.forms.bound import slug_of
from records.forms.fills import Fills
from records.forms.table import Words


@dataclass
class WindGuide:
    """`path` is the reading's; the ranges are told in `unit`."""

    title: Words
    path: str
    unit: str
    chosen: Force | None
    kind: str = "wind"

    @property
    def slug(self) -> str:
        return slug_of(self.path)

    @property
    def forces(self) -> list[tuple[Force, Fills]]:
        return [(force, self._fills(force)) for force in forces_in(self.unit)]

    def _fills(self, force: Force) -> Fills:
        said = force.members()
        speed = said["wind_speed"] or {"value": "", "unit": force.unit}
        return [
            [f"v:{self.path}.calm", "true" if said["calm"] else "false"],
            [f"v:{self.path}.wind_speed", speed["value"]],
            [f"u:{self.path}.wind_speed", speed["unit"]],
            [f"v:{self.path}.source", said["source"]],
        ]


def wind_guide(title: Words, path: str, reading: Mapping[str, Any], first_unit: str) -> WindGuide:
    speed = reading.get("wind_speed")
    unit = speed.get("unit") if isinstance(speed, dict) else None
    return WindGuide(title, path, unit or first_unit, force_of(reading))
