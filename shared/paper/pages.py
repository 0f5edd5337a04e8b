"""Pages: size, margins, running head, footer with page x of y, stamp, metadata, same bytes every time."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from reportlab.lib.colors import black, white
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from shared.paper.fonts import BOLD, REGULAR, plain, register_fonts
from shared.paper.type_scale import FOOT_SIZE, GREY, LINE, RULE

PAPERS: dict[str, tuple[float, float]] = {"letter": LETTER, "a4": A4}

SIDE = 30.0
TOP = 20.0
BOTTOM = 34.0
STAMP_HEIGHT = 16.0


@dataclass(frozen=True)
class Furniture:
    """What stands on every page and in the file's metadata.

    `page_words` holds the blanks `{page}` and `{pages}`; `stamp`, if any, is set in a black bar at the
    head of every page; `identity` and `caution` are the footer's two lines.
    """

    title: str
    author: str
    subject: str
    language: str
    identity: str
    caution: str
    page_words: str
    stamp: str = ""


def print_pages(story: Sequence[Flowable], furniture: Furniture, paper: str) -> bytes:
    """The story on pages of `paper` (a key of `PAPERS`), as PDF bytes."""
    register_fonts()
    width, height = PAPERS[paper]
    top = TOP + (STAMP_HEIGHT + 4 if furniture.stamp else 0)
    frame = Frame(
        SIDE, BOTTOM, width - 2 * SIDE, height - BOTTOM - top,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
    out = BytesIO()
    template = BaseDocTemplate(
        out, pagesize=PAPERS[paper], invariant=1, lang=furniture.language, pageCompression=1,
        title=furniture.title, author=furniture.author, subject=furniture.subject,
        creator=furniture.author, pageTemplates=[PageTemplate(frames=[frame])],
    )  # fmt: skip
    template.build(list(story), canvasmaker=_canvas_with(furniture))
    return out.getvalue()


def _canvas_with(furniture: Furniture) -> type[Canvas]:
    """A canvas that holds its pages back until it knows how many there are."""

    class FurnishedCanvas(Canvas):
        def __init__(self, *args: Any, **options: Any) -> None:
            super().__init__(*args, **{**options, "initialFontName": REGULAR})
            self._held: list[dict[str, Any]] = []

        def showPage(self) -> None:  # noqa: N802
            self._held.append(dict(self.__dict__))
            self._startPage()

        def save(self) -> None:
            held = self._held
            for number, page in enumerate(held, start=1):
                self.__dict__.update(page)
                _draw_stamp(self, furniture)
                _draw_footer(self, furniture, number, len(held))
                super().showPage()
            super().save()

    return FurnishedCanvas


def _draw_stamp(canvas: Canvas, furniture: Furniture) -> None:
    if not furniture.stamp:
        return
    width, height = canvas._pagesize
    bottom = height - TOP - STAMP_HEIGHT + 6
    canvas.setFillColor(black)
    canvas.rect(SIDE, bottom, width - 2 * SIDE, STAMP_HEIGHT, stroke=0, fill=1)
    canvas.setFillColor(white)
    canvas.setFont(BOLD, 9)
    canvas.drawCentredString(width / 2, bottom + 5, plain(furniture.stamp))
    canvas.setFillColor(black)


def _draw_footer(canvas: Canvas, furniture: Furniture, number: int, total: int) -> None:
    width = canvas._pagesize[0]
    canvas.setStrokeColor(RULE)
    canvas.setLineWidth(LINE)
    canvas.line(SIDE, BOTTOM - 8, width - SIDE, BOTTOM - 8)
    canvas.setFillColor(GREY)
    canvas.setFont(REGULAR, FOOT_SIZE)
    pages = furniture.page_words.format(page=number, pages=total)
    room = width - 2 * SIDE - stringWidth(pages, BOLD, FOOT_SIZE) - 12
    canvas.drawString(SIDE, BOTTOM - 16, _fitted(furniture.identity, room))
    canvas.drawString(SIDE, BOTTOM - 24, _fitted(furniture.caution, width - 2 * SIDE))
    canvas.setFont(BOLD, FOOT_SIZE)
    canvas.drawRightString(width - SIDE, BOTTOM - 16, plain(pages))
    canvas.setFillColor(black)


def _fitted(text: str, room: float) -> str:
    """One line of `text` no wider than `room` points, ended by … where it is cut."""
    line = plain(text)
    if stringWidth(line, REGULAR, FOOT_SIZE) <= room:
        return line
    while line and stringWidth(line + "…", REGULAR, FOOT_SIZE) > room:
        line = line[:-1]
    return line + "…"
