"""Signs as PDF to scale: one face on a page at 100 %, with two lines to measure by."""

from io import BytesIO

from reportlab.lib.colors import Color, black, white
from reportlab.lib.pagesizes import A3, TABLOID
from reportlab.lib.units import inch, mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph

from compliance.papers.notice.lettering import lettering
from compliance.papers.posting_sign.content import SignContent
from compliance.papers.posting_sign.layout import EDGE, Face, faces_of
from compliance.papers.posting_sign.symbol import draw_symbol
from compliance.papers.posting_sign.wording import WORDS
from shared.paper.fonts import REGULAR, legible
from shared.paper.pages import PAPERS

COLOURS = {"yellow": Color(1, 0.9, 0), "white": white, "red": Color(0.8, 0, 0), "black": black}
_LARGER = {"letter": TABLOID, "a4": A3}
_MARGIN = 0.4 * inch
_FOOT = 2.4 * inch


def print_sign(content: SignContent, paper: str = "letter") -> bytes:
    """The sign as PDF; on the next larger sheet where it needs one. Same arguments, same bytes."""
    faces = faces_of(content)
    width, height = _sheet(faces[0], paper)
    out = BytesIO()
    canvas = Canvas(out, pagesize=(width, height), invariant=1, lang=content.language, initialFontName=REGULAR)
    canvas.setTitle(content.title)
    canvas.setAuthor(content.firm)
    for place, face in enumerate(faces):
        _draw_face(canvas, content, face, (width - face.width) / 2, height - _MARGIN - face.height)
        _draw_foot(canvas, content, width, height - _MARGIN - face.height, back=place > 0)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _sheet(face: Face, paper: str) -> tuple[float, float]:
    """The smallest sheet that holds the face and what stands below it; its own size where none does."""
    needed = face.width + 2 * _MARGIN, face.height + _MARGIN + _FOOT
    for sheet in (PAPERS[paper], _LARGER[paper]):
        if needed[0] <= sheet[0] and needed[1] <= sheet[1]:
            return sheet
    return max(needed[0], _LARGER[paper][0]), max(needed[1], _LARGER[paper][1])


def _draw_face(canvas: Canvas, content: SignContent, face: Face, left: float, bottom: float) -> None:
    ink = COLOURS[content.print]
    canvas.setFillColor(COLOURS[content.ground])
    canvas.setStrokeColor(ink)
    canvas.setLineWidth(1)
    canvas.rect(left, bottom, face.width, face.height, stroke=1, fill=1)
    used = 2 * EDGE + sum(row.height for row in face.rows) + (face.symbol + EDGE if face.symbol else 0)
    top = bottom + face.height - EDGE - (face.height - used) / 2
    if face.symbol:
        top -= face.symbol
        draw_symbol(canvas, left + (face.width - face.symbol) / 2, top, face.symbol, ink)
        top -= EDGE
    canvas.setFillColor(ink)
    for row in face.rows:
        canvas.setFont(row.font, row.size)
        canvas.drawCentredString(left + face.width / 2, top - row.letters, row.text)
        top -= row.height


def _draw_foot(canvas: Canvas, content: SignContent, width: float, below: float, *, back: bool) -> None:
    """Outside the frame: the two lines and what to do."""

    def say(name: str) -> str:
        return WORDS[name].say(content.language)

    canvas.setFillColor(black)
    canvas.setStrokeColor(black)
    canvas.setLineWidth(1.2)
    top = below - 24
    for name, length in (("line-mm", 100 * mm), ("line-in", 4 * inch)):
        canvas.line(_MARGIN, top, _MARGIN + length, top)
        for end in (_MARGIN, _MARGIN + length):
            canvas.line(end, top - 4, end, top + 4)
        canvas.setFont(REGULAR, 9)
        canvas.drawString(_MARGIN + length + 10, top - 3, say(name))
        top -= 16
    said = [say("back")] * back + [say("scale"), *content.beside]
    for text in said:
        paragraph = Paragraph(legible(text), lettering(9).body)
        top -= paragraph.wrapOn(canvas, width - 2 * _MARGIN, 1000)[1]
        paragraph.drawOn(canvas, _MARGIN, top)
