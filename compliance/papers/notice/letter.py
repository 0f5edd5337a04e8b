"""Notices as letters for window envelopes, many in one PDF, in walking order."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.units import inch, mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageBreak, PageTemplate, Paragraph

from compliance.papers.notice.content import NoticeContent
from compliance.papers.notice.lettering import lettering, written
from shared.paper.fonts import REGULAR, legible, register_fonts
from shared.paper.pages import PAPERS
from shared.paper.type_scale import GREY

SIZE = 12.0
"""The least type of a notice to neighbors in New York, as Erie County's health department restates the rules of
the Neighbor Notification Law: lettering of at least 12 points."""


@dataclass(frozen=True)
class Window:
    """What shows of a sheet folded in three, from its top and left edge, in points.

    The sheet has room in the envelope: sideways this much shows wherever it lies; down to `height` while it
    rests on the envelope's bottom, and of that the lowest `sure` points even if it slides up.
    """

    top: float
    left: float
    width: float
    height: float
    sure: float


WINDOWS = {
    # A number 10 envelope, 4 1/8 x 9 1/2 in, its window 1 1/8 x 4 1/2 in, 7/8 in from the left and 1/2 in from
    # the bottom: common practice, no source. A sheet of 8 1/2 x 11 in leaves 1 in sideways, 0.458 in upwards.
    "letter": Window(2.042 * inch, 0.875 * inch, 3.5 * inch, 1.125 * inch, 0.667 * inch),
    # A DL envelope, 110 x 220 mm, its window by DIN 680 45 x 90 mm, 20 mm from the left and 15 mm from the
    # bottom: from memory. A sheet of A4 leaves 10 mm sideways and 11 mm upwards.
    "a4": Window(39 * mm, 20 * mm, 80 * mm, 45 * mm, 34 * mm),
}

_SIDE, _TOP, _BOTTOM = 0.875 * inch, 0.5 * inch, 0.55 * inch
_INSET = 5.0
_SIZES = (11.0, 10.0)
"""Of the address: from 10 points machines read it and people at an arm's length: common practice, no source."""
_LEAST_NAME = 20
"""Letters that are left of a name before the address is cut, too."""
_BELOW_WINDOW = 16.0


def letters(contents: Sequence[NoticeContent], paper: str = "letter", size: float = SIZE) -> bytes:
    """The letters as PDF, by `walk`; each begins on a page of its own. Same arguments, same bytes."""
    register_fonts()
    width, height = PAPERS[paper]
    frame = Frame(
        _SIDE, _BOTTOM, width - 2 * _SIDE, height - _TOP - _BOTTOM,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
    ordered = sorted(contents, key=lambda one: one.reader.walk)
    first = ordered[0].sides[0]
    out = BytesIO()
    template = BaseDocTemplate(
        out, pagesize=PAPERS[paper], invariant=1, lang=first.language, title=first.title,
        author=ordered[0].sender.name, initialFontName=REGULAR,
        pageTemplates=[PageTemplate(frames=[frame], onPageEnd=_number)],
    )  # fmt: skip
    story: list[Flowable] = []
    for content in ordered:
        story += [PageBreak()] if story else []
        story += [_Head(content, paper), *written(content, width - 2 * _SIDE, size)]
    template.build(story, canvasmaker=_Sheet)
    return out.getvalue()


class _Sheet(Canvas):
    """A canvas that counts the pages of each letter by itself."""

    letter_page = 0
    page_word = ""

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **{**options, "initialFontName": REGULAR})


def _number(canvas: _Sheet, _template: BaseDocTemplate) -> None:
    canvas.letter_page += 1
    if canvas.letter_page == 1:
        return
    canvas.setFont(REGULAR, 9)
    canvas.setFillColor(GREY)
    word = canvas.page_word.format(number=canvas.letter_page)
    canvas.drawRightString(canvas._pagesize[0] - _SIDE, _BOTTOM / 2, word)


class _Head(Flowable):
    """Letterhead above, the reader's address in the window; what follows begins below the window."""

    def __init__(self, content: NoticeContent, paper: str) -> None:
        super().__init__()
        self.content, self.window = content, WINDOWS[paper]
        self.height = self.window.top + self.window.height + _BELOW_WINDOW - _TOP

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        self.width = width
        return width, self.height

    def draw(self) -> None:
        words = dict.fromkeys(side.speech.catalogue["page"].say(side.language) for side in self.content.sides)
        self.canv.letter_page, self.canv.page_word = 0, " / ".join(words)
        if self.content.letterhead:
            self._stack(self._letterhead(), self.width, 0, self.height)
        window, reader = self.window, self.content.reader
        texts = [text for text in (reader.name, *reader.address) if text]
        room = window.width - 2 * _INSET
        lines = _fitting(texts, room, window.sure - _INSET, _SIZES) or _fitted(texts, room, window.height - 8)
        foot = self.height - (window.top + window.height - _TOP) + _INSET
        tall = sum(line.wrap(room, self.height)[1] for line in lines)
        self._stack(lines, room, window.left - _SIDE + _INSET, foot + tall)

    def _letterhead(self) -> list[Paragraph]:
        sender = self.content.sender
        rest = " · ".join(text for text in (*sender.address, sender.phone) if text)
        half = (self.window.top - _TOP) / 2 - _INSET
        name = _fitted([sender.name], self.width, half, (13.0, 10.0), bold=True)
        return [*name, *_fitted([rest], self.width, half, (9.0, 8.0))]

    def _stack(self, lines: Sequence[Paragraph], width: float, left: float, top: float) -> None:
        for line in lines:
            top -= line.wrapOn(self.canv, width, self.height)[1]
            line.drawOn(self.canv, left, top)


def _fitting(
    texts: Sequence[str], width: float, height: float, sizes: Sequence[float], *, bold: bool = False
) -> list[Paragraph]:
    """The texts one below another at the largest size that fits; none if no size does."""
    for size in sizes:
        style = lettering(size).label if bold else lettering(size).body
        lines = [Paragraph(legible(text), style) for text in texts]
        if sum(line.wrap(width, height)[1] for line in lines) <= height:
            return lines
    return []


def _fitted(
    texts: Sequence[str], width: float, height: float, sizes: Sequence[float] = _SIZES, *, bold: bool = False
) -> list[Paragraph]:
    """The texts at the largest size that fits; at none, the first is cut, then all, with … for the rest."""
    found = _fitting(texts, width, height, sizes, bold=bold)
    for of_all, least in ((False, _LEAST_NAME), (True, 1)):
        most = 200
        while not found and most > least:
            short = [_cut(text, most) if of_all or not place else text for place, text in enumerate(texts)]
            found = _fitting(short, width, height, sizes[-1:], bold=bold)
            most = most * 3 // 4
    return found


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 1] + "…"
