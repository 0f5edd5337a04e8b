"""Where the marks of a picture stand, in whole units of its drawing. Pure.

A picture is drawn of numbers that a table beside it tells, too. It needs no script, no font and no network.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, cos, log10, radians

WIDTH, HEIGHT = 640, 260
LEFT, TOP, BOTTOM, RIGHT = 64, 16, 40, 16
MOST_LABELS, LABEL = 4, 140
ROW = 30
_STEPS = (1, 2, 5, 10)


@dataclass(frozen=True)
class Mark:
    """A bar, or a point at its upper left corner. `over`: beyond a limit."""

    x: int
    y: int
    width: int = 0
    height: int = 0
    over: bool = False


@dataclass(frozen=True)
class Label:
    x: int
    y: int
    text: str


@dataclass(frozen=True)
class Picture:
    """Marks within axes. `line`: the points of a line among them, as SVG has them."""

    width: int
    height: int
    marks: Sequence[Mark]
    below: Sequence[Label]
    beside: Sequence[Label]
    line: str = ""


def bars(values: Sequence[Fraction | int], names: Sequence[str]) -> Picture:
    """A bar for each value from left to right."""
    top, wide = nice(max(values, default=0)), _wide(len(values))
    marks = []
    for number, value in enumerate(values):
        y = _y(value, top)
        x = LEFT + int(number * wide)
        marks.append(Mark(x, y, max(1, int(wide * 0.8)), HEIGHT - BOTTOM - y))
    return Picture(WIDTH, HEIGHT, marks, _below(names, wide), _beside(top))


def points(
    values: Sequence[Fraction | None], limits: Sequence[Fraction | None], names: Sequence[str]
) -> Picture:
    """A point for each value that there is, and a line through the limits. A point above its limit is over."""
    top = nice(max((each for each in (*values, *limits) if each is not None), default=Fraction(0)))
    wide = _wide(len(values))
    centres = [LEFT + int((number + 0.5) * wide) for number in range(len(values))]
    marks = [
        Mark(x, _y(value, top), over=limit is not None and value > limit)
        for x, value, limit in zip(centres, values, limits, strict=True)
        if value is not None
    ]
    line = [
        f"{x},{_y(limit, top)}" for x, limit in zip(centres, limits, strict=True) if limit is not None
    ]
    return Picture(WIDTH, HEIGHT, marks, _below(names, wide), _beside(top), " ".join(line))


def rows(values: Sequence[int]) -> Picture:
    """A bar for each value from top to bottom, numbered as the table's rows are."""
    most = max(values, default=0) or 1
    room = WIDTH - LEFT - RIGHT - 60
    lengths = [max(2, value * room // most) for value in values]
    marks = [Mark(LEFT, TOP + number * ROW, length, ROW - 8) for number, length in enumerate(lengths)]
    numbers = [Label(LEFT - 10, mark.y + 17, str(number)) for number, mark in enumerate(marks, 1)]
    ends = [(mark.x + mark.width + 8, mark.y + 17) for mark in marks]
    said = [Label(x, y, str(value)) for (x, y), value in zip(ends, values, strict=True)]
    return Picture(WIDTH, TOP + len(values) * ROW + 8, marks, said, numbers)


@dataclass(frozen=True)
class Map:
    """Places as they lie, north above, and a length as it is said with how long it is drawn."""

    width: int
    height: int
    marks: Sequence[Mark]
    numbers: Sequence[Label]
    length: str
    drawn: int


def placed(places: Sequence[tuple[float, float, int]], *, metric: bool) -> Map:
    """Latitude, longitude and how many, each as a disc whose area tells how many; within a few counties the
    earth is drawn as flat (common practice, no source)."""
    middle = sum(latitude for latitude, _longitude, _n in places) / len(places)
    a_degree = 111_320.0
    across = a_degree * cos(radians(middle))
    east = [longitude * across for _latitude, longitude, _n in places]
    north = [latitude * a_degree for latitude, _longitude, _n in places]
    margin, side = 40, 520
    extent = max(max(east) - min(east), max(north) - min(north), 200.0)
    scale = (side - 2 * margin) / extent
    most = max(n for _latitude, _longitude, n in places)
    marks, numbers = [], []
    for number, (x, y, (_latitude, _longitude, n)) in enumerate(zip(east, north, places, strict=True), 1):
        at_x, at_y = margin + int((x - min(east)) * scale), margin + int((max(north) - y) * scale)
        radius = 5 + int(13 * (n / most) ** 0.5)
        marks.append(Mark(at_x, at_y, radius))
        numbers.append(Label(at_x + radius + 3, at_y + 5, str(number)))
    length, metres = _length(extent / 4, metric)
    tall = 2 * margin + int((max(north) - min(north)) * scale)
    return Map(side + margin, tall + 40, marks, numbers, length, int(metres * scale))


def nice(value: Fraction | int) -> Fraction:
    """The least of 1, 2, 5 times a power of ten that is not below the value; 1 for nothing."""
    if value <= 0:
        return Fraction(1)
    power = Fraction(10) ** ceil(log10(value) - 1 - 1e-9)
    return next(step * power for step in _STEPS if step * power >= value)


def _length(metres: float, metric: bool) -> tuple[str, float]:
    """A round length near this one: as it is said, and in metres. A foot is 0.3048 m, a mile 5,280 ft."""
    units = (("km", 1000.0), ("m", 1.0)) if metric else (("mi", 1609.344), ("ft", 0.3048))
    name, factor = next(((name, factor) for name, factor in units if metres >= factor), units[-1])
    rounded = nice(Fraction(max(1, int(metres / factor))))
    return f"{int(rounded)} {name}", float(rounded) * factor


def _wide(count: int) -> float:
    return (WIDTH - LEFT - RIGHT) / max(1, count)


def _y(value: Fraction | int, top: Fraction) -> int:
    return HEIGHT - BOTTOM - int(Fraction(value) / top * (HEIGHT - TOP - BOTTOM))


def _beside(top: Fraction) -> list[Label]:
    return [Label(LEFT - 8, _y(part, top) + 5, f"{float(part):g}") for part in (Fraction(0), top / 2, top)]


def _below(names: Sequence[str], wide: float) -> list[Label]:
    """As many names as there is room for; none that would stand out of the picture."""
    every = ceil(len(names) / MOST_LABELS) or 1
    places = [(LEFT + int(number * wide), name) for number, name in enumerate(names) if number % every == 0]
    return [Label(x, HEIGHT - BOTTOM + 26, name) for x, name in places if x + LABEL <= WIDTH]
