"""Notices as letters for window envelopes, many in one PDF, in walking order."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.units import inch, mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageBreak, PageTemplate, Paragraph

from compliance.papers.notice.content import NoticeContent
from compliance.papers.notice.lettering import lettering, written
from shared.paper.fonts import BOLD, REGULAR, legible, register_fonts
from shared.paper.pages import PAPERS
from shared.paper.type_scale import GREY

SIZE = 12.0
"""The least type of a notice to neighbors in New York, as Erie County's health department restates the rules of
the Neighbor Notification Law: lettering of at least 12 points."""


@dataclass(frozen=True)
class Window:
    """Where the address shows once the sheet is folded in three: from its top and left edge, in points."""

    top: float
    left: float
    width: float
    height: float


WINDOWS = {
    # A number 10 envelope, 4 1/8 x 9 1/2 in, with a window of 1 1/8 x 4 1/2 in, 7/8 in from the left and 1/2 in
    # from the bottom; a letter folded in three fills it from the top: common practice, no source.
    "letter": Window(2.0 * inch, 0.875 * inch, 4.5 * inch, 1.125 * inch),
    # A DL envelope's window by DIN 680 over the address field of DIN 5008, form B, 45 mm from the top, 20 mm
    # from the left, 85 x 45 mm: from memory.
    "a4": Window(45 * mm, 20 * mm, 85 * mm, 45 * mm),
}

_SIDE, _TOP, _BOTTOM = 0.875 * inch, 0.5 * inch, 0.7 * inch
_INSET = 5.0
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
        window = self.window
        reader = self.content.reader
        lines = [
            Paragraph(legible(text), lettering(11).body) for text in (reader.name, *reader.address) if text
        ]
        room = window.width - 2 * _INSET
        self._stack(lines, room, window.left - _SIDE + _INSET, self.height - (window.top - _TOP) - _INSET)

    def _letterhead(self) -> list[Paragraph]:
        sender, type_ = self.content.sender, lettering(9)
        rest = " · ".join(text for text in (*sender.address, sender.phone) if text)
        return [
            Paragraph(f'<font name="{BOLD}" size="13">{legible(sender.name)}</font>', lettering(13).body),
            Paragraph(legible(rest), type_.body),
        ]

    def _stack(self, lines: Sequence[Paragraph], width: float, left: float, top: float) -> None:
        for line in lines:
            top -= line.wrapOn(self.canv, width, self.height)[1]
            line.drawOn(self.canv, left, top)
