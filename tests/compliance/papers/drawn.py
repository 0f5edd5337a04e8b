"""A drawn PDF read back: each piece of text with its place on the page, in points from the lower left."""

from dataclasses import dataclass
from io import BytesIO
from typing import Any

from pypdf import PageObject, PdfReader
from reportlab.pdfbase.pdfmetrics import stringWidth

from shared.paper.fonts import BOLD, MONO, REGULAR, register_fonts

_FONTS = {"NotoSans-Bold": BOLD, "NotoSans": REGULAR, "DejaVuSansMono": MONO}


@dataclass(frozen=True)
class Piece:
    """A run of text on one line."""

    text: str
    x: float
    y: float
    size: float
    font: str

    @property
    def right(self) -> float:
        return self.x + stringWidth(self.text, self.font, self.size)


def pages_of(pdf: bytes) -> list[PageObject]:
    return list(PdfReader(BytesIO(pdf)).pages)


def text_of(pdf: bytes) -> str:
    """All text in one line, a single space between words."""
    return " ".join(" ".join(page.extract_text() for page in pages_of(pdf)).split())


def pieces_of(page: PageObject) -> list[Piece]:
    """Every run of text with its place."""
    register_fonts()
    found: list[Piece] = []

    def visit(text: str, cm: list[float], tm: list[float], font: Any, size: float) -> None:
        line = text.strip("\n")
        if not line.strip() or not font:
            return
        name = str(font["/BaseFont"])
        known = next(ours for theirs, ours in _FONTS.items() if theirs in name)
        x, y = tm[4] * cm[0] + cm[4], tm[5] * cm[3] + cm[5]
        found.append(Piece(line.strip(), x, y, size * cm[0], known))

    page.extract_text(visitor_text=visit)
    return found


def overlaps(pieces: list[Piece]) -> list[tuple[str, str]]:
    """Pieces that stand over one another: nearer than half their height, side by side in part."""
    return [
        (one.text, other.text)
        for place, one in enumerate(pieces)
        for other in pieces[place + 1 :]
        if abs(one.y - other.y) < min(one.size, other.size) * 0.6
        and one.x < other.right - 1
        and other.x < one.right - 1
    ]
