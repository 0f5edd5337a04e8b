"""Printing a record sheet against the same marks drawn straight on a reportlab canvas.

The marks (runs of text with place, font and size; rectangles; lines) are read once out of our own sheet, and
drawn again with nothing but `drawString`, `rect` and `line`: no content, no layout, no tables.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

from pypdf import PageObject, PdfReader
from reportlab.pdfgen.canvas import Canvas

from benchmarks.timing import Ratio, compare
from compliance.papers import record_sheet
from shared.paper.fonts import BOLD, REGULAR, register_fonts
from shared.paper.pages import PAPERS

Point = tuple[float, float]


@dataclass
class Marks:
    """What stands on one page, in points from its lower left corner."""

    texts: list[tuple[str, float, float, float, str]] = field(default_factory=list)
    boxes: list[tuple[float, float, float, float]] = field(default_factory=list)
    lines: list[tuple[float, float, float, float]] = field(default_factory=list)


def ratios(document: dict[str, Any]) -> list[Ratio]:
    sheet = record_sheet.build(document)
    pages = [marks_on(page) for page in PdfReader(BytesIO(sheet)).pages]
    assert words_of(drawn(pages)) == words_of(sheet)
    return [
        compare(
            "a record sheet as PDF",
            lambda: record_sheet.build(document),
            "the same marks on a bare canvas",
            lambda: drawn(pages),
        )
    ]


def marks_on(page: PageObject) -> Marks:
    marks, pen = Marks(), [(0.0, 0.0)]

    def text(run: str, cm: Sequence[float], tm: Sequence[float], font: Any, size: float) -> None:
        if run.strip():
            name = BOLD if font and "Bold" in str(font["/BaseFont"]) else REGULAR
            marks.texts.append((name, size, *placed((tm[4], tm[5]), cm), run.strip("\n")))

    def operand(operator: bytes, args: Sequence[Any], cm: Sequence[float], tm: Sequence[float]) -> None:
        numbers = [float(each) for each in args] if operator in (b"re", b"m", b"l") else []
        if operator == b"re":
            marks.boxes.append((*placed((numbers[0], numbers[1]), cm), numbers[2], numbers[3]))
        elif operator == b"m":
            pen[0] = placed((numbers[0], numbers[1]), cm)
        elif operator == b"l":
            marks.lines.append((*pen[0], *placed((numbers[0], numbers[1]), cm)))

    page.extract_text(visitor_text=text, visitor_operand_before=operand)
    return marks


def placed(point: Point, matrix: Sequence[float]) -> Point:
    a, b, c, d, e, f = (float(each) for each in matrix)
    return a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f


def drawn(pages: Sequence[Marks]) -> bytes:
    register_fonts()
    out = BytesIO()
    canvas = Canvas(out, pagesize=PAPERS["letter"], invariant=1, pageCompression=1, lang="en")
    for marks in pages:
        for name, size, x, y, run in marks.texts:
            canvas.setFont(name, size)
            canvas.drawString(x, y, run)
        for box in marks.boxes:
            canvas.rect(*box, stroke=0, fill=1)
        for line in marks.lines:
            canvas.line(*line)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def words_of(pdf: bytes) -> list[str]:
    return sorted("".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages).split())
