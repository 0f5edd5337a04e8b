"""A drawn sign measured: its box with its colours, its ring, its lines, in points from the lower left."""

from dataclasses import dataclass, field
from io import BytesIO

from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

Colour = tuple[float, ...]


@dataclass
class Measured:
    """What is drawn on a page besides its text."""

    boxes: list[tuple[float, float, float, float, Colour]] = field(default_factory=list)
    lines: list[float] = field(default_factory=list)
    rings: list[float] = field(default_factory=list)
    text_colours: set[Colour] = field(default_factory=set)


def measured(page: PageObject) -> Measured:
    """Filled boxes (x, y, width, height, colour), lengths of level lines, outer widths of stroked circles."""
    found, fill, pen = Measured(), (0.0,), 1.0
    path: list[tuple[float, float]] = []
    box: tuple[float, ...] | None = None
    curved = False
    reader = page.pdf
    assert reader is not None
    for operands, operator in ContentStream(page["/Contents"].get_object(), reader).operations:
        numbers = [float(one) for one in operands if isinstance(one, (int, float))]
        match operator:
            case b"rg" | b"g":
                fill = tuple(round(one, 2) for one in numbers)
            case b"w":
                pen = numbers[0]
            case b"re":
                box = tuple(numbers)
            case b"m":
                path, curved = [(numbers[0], numbers[1])], False
            case b"l":
                path.append((numbers[0], numbers[1]))
            case b"c":
                path.append((numbers[4], numbers[5]))
                curved = True
            case b"B" | b"B*" if box:
                found.boxes.append((*box, fill))
                box = None
            case b"S" if len(path) == 2 and not curved and path[0][1] == path[1][1]:
                found.lines.append(abs(path[1][0] - path[0][0]))
            case b"S" | b"s" if curved:
                across = [x for x, _ in path]
                found.rings.append(max(across) - min(across) + pen)
            case b"Tj" | b"TJ":
                found.text_colours.add(fill)
    return found


def pages_of(pdf: bytes) -> list[PageObject]:
    return list(PdfReader(BytesIO(pdf)).pages)
