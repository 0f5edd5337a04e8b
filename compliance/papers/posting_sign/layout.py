"""How large a sign must be for its lines: letters by the height of their capitals, broken between words."""

from dataclasses import dataclass

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfmetrics import stringWidth

from compliance.papers.posting_sign.content import SignContent, SignLine
from shared.paper.fonts import BOLD, REGULAR, plain, register_fonts

EDGE = 14.0
_BETWEEN = 0.55
_THOUSAND = 1000


@dataclass(frozen=True)
class Row:
    """A line as it is set; `size` is that of the font, `letters` the height of its capitals."""

    text: str
    font: str
    size: float
    letters: float

    @property
    def height(self) -> float:
        """Capitals and the room below them."""
        return self.letters * (1 + _BETWEEN)


@dataclass(frozen=True)
class Face:
    """One side of a sign: as large as it must be, with its rows from the top; `symbol` is its side, or 0."""

    width: float
    height: float
    symbol: float
    rows: tuple[Row, ...]


def faces_of(content: SignContent) -> tuple[Face, ...]:
    """Front, and back where there is one, of the same size."""
    register_fonts()
    sides = [(content.front, content.symbol)] + ([(content.back, 0.0)] if content.back else [])
    longest = max(
        (_width(word, line) for lines, _ in sides for line in lines for word in plain(line.text).split()),
        default=0,
    )
    width = max(content.width, longest + 2 * EDGE)
    rows = [tuple(row for line in lines for row in _broken(line, width - 2 * EDGE)) for lines, _ in sides]
    height = max(content.height, *(_tall(one, symbol) for one, (_, symbol) in zip(rows, sides, strict=True)))
    return tuple(Face(width, height, symbol, one) for one, (_, symbol) in zip(rows, sides, strict=True))


def _tall(rows: tuple[Row, ...], symbol: float) -> float:
    return 2 * EDGE + sum(row.height for row in rows) + (symbol + EDGE if symbol else 0)


def _font(line: SignLine) -> tuple[str, float]:
    name = BOLD if line.bold else REGULAR
    capitals = pdfmetrics.getFont(name).face.capHeight / _THOUSAND
    return name, line.letters / capitals


def _width(text: str, line: SignLine) -> float:
    name, size = _font(line)
    return float(stringWidth(text, name, size))


def _broken(line: SignLine, room: float) -> list[Row]:
    name, size = _font(line)
    rows: list[str] = []
    for word in plain(line.text).split():
        together = f"{rows[-1]} {word}" if rows else word
        if rows and _width(together, line) <= room:
            rows[-1] = together
        else:
            rows.append(word)
    return [Row(text, name, size, line.letters) for text in rows]
