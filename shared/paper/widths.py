"""Columns that keep to the grid where their text fits, and else borrow room from those that have some."""

from collections.abc import Iterator, Sequence

from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase.pdfmetrics import stringWidth

from shared.paper.fonts import register_fonts
from shared.paper.type_scale import GUTTER

_MOST = 240.0


def need(text: str, style: ParagraphStyle) -> float:
    """The width in points of the longest line of `text` with the gutter; long text may be broken."""
    register_fonts()
    lines = text.split("\n")
    widest = max(stringWidth(line, style.fontName, style.fontSize) for line in lines)
    return min(widest + GUTTER, _MOST)


def fitted(widths: Sequence[float], needs: Sequence[float]) -> list[float]:
    """The widths, in which columns that lack room get what others have to spare; small lacks first."""
    lacks = {place: need - width for place, (width, need) in _numbered(widths, needs) if need > width}
    spares = {place: width - need for place, (width, need) in _numbered(widths, needs) if need < width}
    left, given = sum(spares.values()), dict[int, float]()
    for place, lack in sorted(lacks.items(), key=lambda one: one[1]):
        given[place] = min(lack, left)
        left -= given[place]
    taken = sum(given.values()) / sum(spares.values()) if spares else 0
    return [width + given.get(place, 0) - taken * spares.get(place, 0) for place, width in enumerate(widths)]


def _numbered(widths: Sequence[float], needs: Sequence[float]) -> Iterator[tuple[int, tuple[float, float]]]:
    return enumerate(zip(widths, needs, strict=True))
