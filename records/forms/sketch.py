"""A small drawing of a site's features around what is treated, north at the top.

Near things are drawn farther apart than they are, so that a drain at the wall and one at the street both find
room: the drawing helps to find them, and the words beside it say how far they are.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin, sqrt
from typing import Any

from shared.quantities import Quantity, QuantityError, read

MIDDLE, NEAREST, FARTHEST = 150, 62, 128
"""Of the drawing's 300 units: its middle, and where a mark stands at distance nothing and at the greatest."""
APART = 30


@dataclass(frozen=True)
class Mark:
    """One feature. `x` and `y` are None where its direction or distance is not known, and it is not drawn."""

    number: int
    feature: Mapping[str, Any]
    x: int | None = None
    y: int | None = None


@dataclass
class Drawing:
    """The features under a title; `drawn` are those with a place."""

    title: Any
    marks: list[Mark]
    kind: str = "sketch"

    @property
    def drawn(self) -> list[Mark]:
        return [mark for mark in self.marks if mark.x is not None]


def drawing(title: Any, features: Sequence[Mapping[str, Any]]) -> Drawing:
    """Every feature with its number, and its place where bearing and distance are known."""
    away = [(_base(feature, "distance"), _base(feature, "bearing")) for feature in features]
    farthest = max((distance for distance, bearing in away if None not in (distance, bearing)), default=0)
    marks: list[Mark] = []
    for number, (feature, (distance, bearing)) in enumerate(zip(features, away, strict=True), 1):
        if distance is None or bearing is None:
            marks.append(Mark(number, feature))
            continue
        marks.append(Mark(number, feature, *_free(bearing, distance, farthest or 1, marks)))
    return Drawing(title, marks)


def _base(feature: Mapping[str, Any], member: str) -> float | None:
    try:
        quantity = read(feature[member]) if feature.get(member) else None
    except QuantityError:
        return None
    return float(quantity.base) if isinstance(quantity, Quantity) else None


def _free(bearing: float, distance: float, farthest: float, marks: Sequence[Mark]) -> tuple[int, int]:
    """The place, turned a little aside where another mark stands already."""
    radius = NEAREST + (FARTHEST - NEAREST) * sqrt(max(distance, 0) / farthest)
    for aside in (0, 14, -14, 28, -28, 42, -42):
        turned = radians(bearing + aside)
        x, y = round(MIDDLE + radius * sin(turned)), round(MIDDLE - radius * cos(turned))
        if all(mark.x is None or hypot(mark.x - x, (mark.y or 0) - y) >= APART for mark in marks):
            break
    return x, y
