"""The head of a paper's first page: title, whose it is, what identifies it, and a code to scan."""

from collections.abc import Sequence

from reportlab.platypus import Flowable, Paragraph, Spacer, Table

from shared.paper.blocks import Block, Fact
from shared.paper.fonts import REGULAR, legible
from shared.paper.qr import QrCode
from shared.paper.sections import draw_block
from shared.paper.type_scale import LABEL, STRONG, TITLE

CODE_SIDE = 78.0
_LONGEST_VALUE = 160
_SHARES = (0.28, 0.2, 0.24, 0.28)

_BARE = [
    ("FONT", (0, 0), (-1, -1), REGULAR),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]


def draw_head(
    title: str, owner: str, facts: Sequence[Fact], below: Sequence[Block], width: float, code: str = ""
) -> list[Flowable]:
    """Flowables for a head `width` points wide.

    At most four `facts` stand in a row, short blocks `below` them; `code` is drawn as a QR code.
    """
    code_side = CODE_SIDE if code else 0
    room = width - code_side
    named = f'&nbsp;&nbsp; <font size="{STRONG.fontSize}">{legible(_short(owner))}</font>' if owner else ""
    cells = [
        [Paragraph(legible(fact.label), LABEL), Paragraph(legible(_short(fact.value)), STRONG)]
        for fact in facts
    ]
    identity = Table([cells], colWidths=[room * share for share in _SHARES[: len(cells)]], style=_BARE)
    left: list[Flowable] = [Paragraph(legible(title) + named, TITLE), Spacer(0, 3), identity, Spacer(0, 2)]
    left += [flowable for block in below for flowable in draw_block(block, room)]
    right = [QrCode(code, code_side)] if code else []
    return [Table([[left, right]], colWidths=[room, code_side], style=_BARE, hAlign="LEFT"), Spacer(0, 3)]


def _short(text: str) -> str:
    """The head names things; their full text stands in the sections."""
    return text if len(text) <= _LONGEST_VALUE else text[: _LONGEST_VALUE - 1] + "…"
