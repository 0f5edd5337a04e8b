"""The notice as flowables: one language after another, equal in size."""

from dataclasses import dataclass
from functools import cache

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, HRFlowable, KeepTogether, Paragraph, Spacer, Table

from compliance.papers.notice.content import Line, NoticeContent, Side
from shared.paper.fonts import BOLD, REGULAR, legible
from shared.paper.type_scale import RULE

_LABEL_SHARE = 0.32
_LONGEST_WORD = 8.4
"""Of a label, in heights of its type: that of the poison center in Spanish."""
_LEADING = 1.2


@dataclass(frozen=True)
class Lettering:
    """The styles at one size of type, in points."""

    body: ParagraphStyle
    label: ParagraphStyle
    title: ParagraphStyle

    @property
    def gap(self) -> float:
        return self.body.fontSize * 0.55


@cache
def lettering(size: float) -> Lettering:
    """Styles whose running text is this large."""

    def style(name: str, font: str, points: float, **more: object) -> ParagraphStyle:
        return ParagraphStyle(
            name, fontName=font, fontSize=points, leading=points * _LEADING, splitLongWords=1, **more
        )

    return Lettering(
        style(f"notice-{size}", REGULAR, size),
        style(f"notice-label-{size}", BOLD, size),
        style(f"notice-title-{size}", BOLD, size * 1.3),
    )


@dataclass(frozen=True)
class Written:
    """The notice in one of its languages; `closing`, its last sentences, stays together where it can."""

    body: list[Flowable]
    closing: list[Flowable]

    @property
    def whole(self) -> list[Flowable]:
        return [*self.body, *self.closing]


def written(content: NoticeContent, width: float, size: float) -> list[Flowable]:
    """All of the notice but letterhead and address, one language after another."""
    story: list[Flowable] = []
    for place, side in enumerate(content.sides):
        if place:
            story += [Spacer(0, size * 0.5), HRFlowable(width="100%", color=RULE, thickness=0.8), Spacer(0, 4)]
        one = written_side(content, side, width, size)
        story += [*one.body, KeepTogether(one.closing)] if one.closing else one.body
    return story


def written_side(content: NoticeContent, side: Side, width: float, size: float) -> Written:
    """The notice in one of its languages. No gap follows the last of it: a gap alone would take a new page."""
    type_ = lettering(size)
    story: list[Flowable] = [Paragraph(legible(side.title), type_.title), Spacer(0, type_.gap)]
    if content.letterhead:
        for text in (side.greeting, side.opening):
            story += [Paragraph(legible(text), type_.body), Spacer(0, type_.gap)]
    if side.lines:
        story += [ruled_lines(side.lines, width, type_), Spacer(0, type_.gap)]
    for text in side.statements:
        box = Table([[Paragraph(legible(text), type_.label)]], colWidths=[width], style=_BOX)
        story += [box, Spacer(0, type_.gap)]
    closing: list[Flowable] = []
    for text in side.closing:
        closing += [Spacer(0, type_.gap / 2)] if closing else []
        closing.append(Paragraph(legible(text), type_.body))
    return Written(story if closing else story[:-1], closing)


def ruled_lines(lines: tuple[Line, ...], width: float, type_: Lettering) -> Table:
    """Labels and their answers, a blank to write on where there is none."""
    rows: list[list[Flowable]] = [
        [
            Paragraph(legible(line.label), type_.label),
            Paragraph(legible(line.value), type_.body) if line.value else Blank(type_.body.leading),
        ]
        for line in lines
    ]
    labels = max(width * _LABEL_SHARE, type_.label.fontSize * _LONGEST_WORD)
    return Table(rows, colWidths=[labels, width - labels], style=RULED, splitInRow=1)


class Blank(Flowable):
    """A line to write on."""

    def __init__(self, height: float) -> None:
        super().__init__()
        self.height = height

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        self.width = width
        return width, self.height

    def draw(self) -> None:
        self.canv.setLineWidth(0.6)
        self.canv.line(0, 2, self.width, 2)


class Box(Flowable):
    """A box to tick."""

    def __init__(self, side: float) -> None:
        super().__init__()
        self.width = self.height = side

    def draw(self) -> None:
        self.canv.setLineWidth(1)
        self.canv.rect(0, 0, self.width, self.height, stroke=1, fill=0)


BARE = [
    ("FONT", (0, 0), (-1, -1), REGULAR),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 4),
    ("TOPPADDING", (0, 0), (-1, -1), 1.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]
RULED = [*BARE, ("LINEBELOW", (0, 0), (-1, -1), 0.35, RULE)]
_BOX = [
    ("FONT", (0, 0), (-1, -1), REGULAR),
    ("BOX", (0, 0), (-1, -1), 1, RULE),
    ("LEFTPADDING", (0, 0), (-1, -1), 6),
    ("RIGHTPADDING", (0, 0), (-1, -1), 6),
    ("TOPPADDING", (0, 0), (-1, -1), 4),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 6),
]
