"""The cover letter drawn as PDF pages."""

from collections.abc import Iterator
from itertools import pairwise

from reportlab.platypus import Flowable, Indenter, KeepTogether, PageBreak, Paragraph, Spacer, Table

from compliance.papers.cover.content import CoverLetter, Part
from compliance.papers.notice.lettering import BARE, RULED, Blank, lettering
from shared.paper import PAPERS, Furniture, print_pages
from shared.paper.fonts import BOLD, MONO, legible
from shared.paper.pages import SIDE

_TYPE = lettering(10.5)
_SMALL = lettering(9)
_EDGE = 34.0
_PLACES = 0.2
_LINE_TO_SIGN = 220.0


def draw(letter: CoverLetter, paper: str) -> bytes:
    width = PAPERS[paper][0] - 2 * SIDE - 2 * _EDGE
    furniture = Furniture(
        title=letter.title,
        author=letter.firm,
        subject=letter.title,
        language=letter.language,
        identity=letter.firm,
        caution=letter.caution,
        page_words=letter.page_words,
    )
    told = [*_head(letter), *(each for part in letter.parts[:-1] for each in _part(part)), *_closing(letter)]
    between = [Spacer(0, 24)] if letter.is_short else [PageBreak(), Spacer(0, 20)]
    inner = [*told, *between, *_where(letter, width), *_check(letter)]
    return print_pages([Indenter(left=_EDGE, right=_EDGE), *inner], furniture, paper)


def _head(letter: CoverLetter) -> Iterator[Flowable]:
    yield Spacer(0, 20)
    yield Paragraph(f'<font name="{BOLD}">{legible(letter.firm)}</font>', _TYPE.body)
    yield Paragraph(legible(" · ".join(letter.address)), _SMALL.body)
    yield Spacer(0, 26)
    for line in letter.to:
        yield Paragraph(legible(line), _TYPE.body)
    yield Spacer(0, 18)
    yield Paragraph(legible(letter.day), _TYPE.body)
    yield Spacer(0, 12)
    yield Paragraph(legible(letter.title), _TYPE.title)
    yield Spacer(0, 6)
    for line in letter.opening:
        yield Paragraph(legible(line), _TYPE.body)
        yield Spacer(0, 2)
    yield Spacer(0, 6)


def _check(letter: CoverLetter) -> Iterator[Flowable]:
    root = Paragraph(f'<font name="{MONO}" size="8">{legible(letter.root)}</font>', _SMALL.body)
    yield from _part(letter.parts[-1], root)


def _part(part: Part, *more: Flowable) -> Iterator[Flowable]:
    lines = [Paragraph(legible(text), _TYPE.body) for text in part.sentences]
    spaced = [each for line, _next in pairwise([*lines, None]) if line for each in (line, Spacer(0, 2))]
    heading = Paragraph(legible(part.heading), _TYPE.label)
    yield KeepTogether([heading, Spacer(0, 1), *spaced[:2]])
    yield from spaced[2:]
    yield from more
    yield Spacer(0, 8)


def _where(letter: CoverLetter, width: float) -> Iterator[Flowable]:
    rows = [
        [
            Paragraph(f'<font name="{MONO}" size="8">{legible(place)}</font>', _SMALL.body),
            Paragraph(legible(said), _SMALL.body),
        ]
        for place, said in letter.where
    ]
    yield Paragraph(legible(letter.where_title), _TYPE.label)
    yield Table(rows, colWidths=[width * _PLACES, width * (1 - _PLACES)], style=RULED, hAlign="LEFT")
    yield Spacer(0, 24)


def _closing(letter: CoverLetter) -> Iterator[Flowable]:
    lines = [Paragraph(legible(line), _TYPE.body) for line in letter.closing]
    signed = Table([[Blank(30)]], colWidths=[_LINE_TO_SIGN], style=BARE, hAlign="LEFT")
    yield KeepTogether([signed, Spacer(0, 2), *lines])
