"""Notices as cards for doors: two on a sheet with cut marks, or a whole sheet where the words need it."""

from collections.abc import Sequence
from io import BytesIO

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Frame, Paragraph, Spacer

from compliance.papers.notice.content import NoticeContent, Side
from compliance.papers.notice.letter import SIZE as LETTER_SIZE
from compliance.papers.notice.lettering import Written, lettering, written_side
from shared.paper.fonts import REGULAR, legible, register_fonts
from shared.paper.pages import PAPERS
from shared.paper.type_scale import GREY

SIZES = (12.0, 11.0, 10.0, 9.0)
"""Sizes of type that are tried, from the largest; smaller is not read at a door: common practice, no source."""

Half = tuple[NoticeContent, Side]

_MARGIN = 22.0
_ENDLESS = 100_000.0
_MARK = 14.0


def door_cards(contents: Sequence[NoticeContent], paper: str = "letter") -> bytes:
    """The cards as PDF, by `walk`. Same arguments, same bytes."""
    register_fonts()
    width, height = PAPERS[paper]
    ordered = sorted(contents, key=lambda one: one.reader.walk)
    first = ordered[0].sides[0]
    out = BytesIO()
    canvas = Canvas(out, pagesize=PAPERS[paper], invariant=1, lang=first.language, initialFontName=REGULAR)
    canvas.setTitle(first.title)
    canvas.setAuthor(ordered[0].sender.name)
    waiting: list[Half] = []
    for content in ordered:
        halves = _halves(content)
        if _fitting(halves, width / 2, height):
            waiting += halves
            continue
        _in_halves(canvas, waiting, width, height)
        waiting = []
        for half in halves:
            _on_sheets(canvas, half, width, height)
    _in_halves(canvas, waiting, width, height)
    canvas.save()
    return out.getvalue()


def _halves(content: NoticeContent) -> list[Half]:
    """Half a sheet for each language: a card in two languages is a sheet, folded in the middle."""
    return [(content, side) for side in content.sides]


def _fitting(halves: Sequence[Half], width: float, height: float) -> float:
    """The largest size at which every half fits; 0 if some does not."""
    room, most = width - 2 * _MARGIN, height - 2 * _MARGIN
    for size in SIZES:
        if all(
            _may_be(size, side) and _tall(_card(one, side, room, size).whole, room) <= most
            for one, side in halves
        ):
            return size
    return 0


def _may_be(size: float, side: Side) -> bool:
    """Where a law prints a statement its type is no smaller than in a letter."""
    return size >= LETTER_SIZE or not side.statements


def _tall(story: list[Flowable], width: float) -> float:
    return float(sum(part.wrap(width, _ENDLESS)[1] for part in story))


def _card(content: NoticeContent, side: Side, width: float, size: float) -> Written:
    whose = _whose(content, size)
    written = written_side(content, side, width, size)
    return Written([*whose, Spacer(0, lettering(size - 2).gap), *written.body], written.closing)


def _whose(content: NoticeContent, size: float) -> list[Flowable]:
    """Whose card it is, and for which door."""
    sender = content.sender
    head = " · ".join(text for text in (sender.name, sender.phone) if text) if content.letterhead else ""
    texts = [text for text in (head, *content.reader.address[:1]) if text]
    return [Paragraph(legible(text), lettering(size - 2).body) for text in texts]


def _in_halves(canvas: Canvas, halves: Sequence[Half], width: float, height: float) -> None:
    """The halves in order, side by side; both languages of one reader always share a sheet."""
    half = width / 2
    for pair in _pairs(halves):
        for place, one in enumerate(pair):
            frame = Frame(half * place, 0, half, height, _MARGIN, _MARGIN, _MARGIN, _MARGIN)
            size = _fitting(_halves(one[0]), half, height)
            frame.addFromList(_card(*one, half - 2 * _MARGIN, size).whole, canvas)
        if pair[0][0] is not pair[-1][0] or len(pair) == 1:
            _cut_marks(canvas, half, height)
        canvas.showPage()


def _pairs(halves: Sequence[Half]) -> list[list[Half]]:
    sheets: list[list[Half]] = []
    for one in halves:
        last = sheets[-1] if sheets else []
        begins = len(one[0].sides) > 1 and one[1] is one[0].sides[0]
        if len(last) == 1 and not begins:
            last.append(one)
        else:
            sheets.append([one])
    return sheets


def _on_sheets(canvas: Canvas, one: Half, width: float, height: float) -> None:
    """A card that takes whole sheets; what does not fit on one goes on to the next, which says whose it is."""
    size = _fitting([one], width, height) or SIZES[0]
    room = width - 2 * _MARGIN
    card = _card(*one, room, size)
    body, closing, number = list(card.body), list(card.closing), 1
    while body or closing:
        frame = Frame(0, 0, width, height, _MARGIN, _MARGIN, _MARGIN, _MARGIN)
        is_fresh = not body
        _put(canvas, frame, _again(one, number, size) if number > 1 else [])
        _put(canvas, frame, body)
        if is_fresh or (not body and _tall(closing, room) <= frame._y - frame._y1p):
            _put(canvas, frame, closing)
        canvas.showPage()
        number += 1


def _put(canvas: Canvas, frame: Frame, story: list[Flowable]) -> None:
    """As much of it as the frame holds; what is left stays in the story."""
    frame.addFromList(story, canvas)
    parts = frame.split(story[0], canvas) if story else []
    if parts:
        story[:1] = parts[1:]
        frame.addFromList(parts[:1], canvas)


def _again(one: Half, number: int, size: float) -> list[Flowable]:
    content, side = one
    page = side.speech.word("page", number=str(number))
    type_ = lettering(size)
    title = Paragraph(legible(f"{side.title} · {page}"), type_.label)
    return [*_whose(content, size), Spacer(0, type_.gap), title, Spacer(0, type_.gap)]


def _cut_marks(canvas: Canvas, at: float, height: float) -> None:
    canvas.setStrokeColor(GREY)
    canvas.setLineWidth(0.5)
    canvas.line(at, 0, at, _MARK)
    canvas.line(at, height - _MARK, at, height)
    canvas.setDash(1, 5)
    canvas.line(at, _MARK, at, height - _MARK)
    canvas.setDash()
