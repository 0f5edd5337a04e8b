"""Sections drawn on the grid: the title in the left margin, the blocks beside it."""

from collections.abc import Iterator
from itertools import count

from reportlab.platypus import CondPageBreak, Flowable, Indenter, Paragraph, Spacer, Table

from shared.paper import type_scale as scale
from shared.paper.blocks import Block, Code, Fact, Facts, Grid, Note, Row, Section
from shared.paper.fonts import MONO, REGULAR, legible
from shared.paper.widths import fitted, need

LONGEST_CELL = 200
_ROOM_FOR_A_START = 24.0


class SectionStart(Flowable):
    """The rule over a section and its title in the margin; takes only the room of the rule."""

    def __init__(self, title: str) -> None:
        super().__init__()
        self.title = Paragraph(legible(title), scale.SECTION)
        self.title_height = self.title.wrap(scale.RAIL - scale.GUTTER, 0)[1]

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        self.width, self.height = width, scale.GAP
        return self.width, self.height

    def draw(self) -> None:
        self.canv.setStrokeColor(scale.RULE)
        self.canv.setLineWidth(scale.LINE)
        top = self.height - 1
        self.canv.line(-scale.RAIL, top, self.width, top)
        self.title.wrapOn(self.canv, scale.RAIL - scale.GUTTER, 0)
        self.title.drawOn(self.canv, -scale.RAIL, top - 3 - self.title.height)


def draw_section(section: Section, width: float) -> list[Flowable]:
    """Flowables for a section on a page whose text is `width` points wide."""
    room = width - scale.RAIL
    start = SectionStart(section.title)
    body = [flowable for block in section.blocks for flowable in draw_block(block, room)]
    if len(section.blocks) == 1:
        lacking = start.title_height + 2 - sum(one.wrap(room, 0)[1] for one in body)
        body.append(Spacer(0, max(0, lacking)))
    story: list[Flowable] = [CondPageBreak(_ROOM_FOR_A_START), Indenter(left=scale.RAIL), start]
    return [*story, *body, Indenter(left=-scale.RAIL)]


def draw_block(block: Block, room: float) -> list[Flowable]:
    """Flowables for one block, `room` points wide."""
    match block:
        case Facts():
            return _facts(block, room)
        case Grid():
            return _grid(block, room)
        case Note():
            return _note(block)
        case Code():
            return [
                Paragraph(
                    _labelled(block.label, f'<font name="{MONO}">{legible(block.text)}</font>'), scale.CODE
                )
            ]


def _note(note: Note) -> list[Flowable]:
    return [Paragraph(_labelled(note.label, legible(note.text)), scale.SMALL), Spacer(0, 1.5)]


def _labelled(label: str, markup: str) -> str:
    """A small label and its text on one line."""
    if not label:
        return markup
    size, grey = scale.LABEL.fontSize, scale.GREY.hexval()[2:]
    return (
        f'<font name="{REGULAR}" size="{size}" color="#{grey}">{legible(label)}</font>&nbsp;&nbsp; {markup}'
    )


class _Overflow:
    """Long text is begun in its cell and given whole below the table, under a number."""

    def __init__(self) -> None:
        self._numbers = count(1)
        self.whole: list[Flowable] = []

    def fit(self, text: str) -> str:
        if len(text) <= LONGEST_CELL:
            return legible(text)
        number = next(self._numbers)
        self.whole.append(Paragraph(f"({number}) {legible(text)}", scale.SMALL))
        return f"{legible(text[: LONGEST_CELL - 60])}… ({number})"


def _facts(block: Facts, room: float) -> list[Flowable]:
    overflow = _Overflow()
    width = room / block.columns
    tables: list[Flowable] = []
    for line in _lines(block):
        cells = [_fact_cell(fact, overflow) for fact in line]
        widths = fitted([fact.span * width for fact in line], [_need_of(fact) for fact in line])
        tables.append(Table([cells], colWidths=widths, style=_PLAIN, hAlign="LEFT"))
    return [*tables, *overflow.whole, Spacer(0, 1)]


def _need_of(fact: Fact) -> float:
    """How wide a fact must be, so that neither its label nor its value is broken."""
    return max(need(fact.label, scale.LABEL), need(fact.value, scale.VALUE))


def _lines(block: Facts) -> Iterator[list[Fact]]:
    """The facts row by row, each row no wider than the columns."""
    line: list[Fact] = []
    for fact in block.facts:
        if sum(one.span for one in line) + fact.span > block.columns:
            yield line
            line = []
        line.append(fact)
    if line:
        yield line


def _fact_cell(fact: Fact, overflow: _Overflow) -> list[Flowable]:
    cell = [Paragraph(legible(fact.label), scale.LABEL), Paragraph(overflow.fit(fact.value), scale.VALUE)]
    if fact.beside:
        cell.append(Paragraph(overflow.fit(fact.beside), scale.BESIDE))
    return cell


_PLAIN = [
    ("FONT", (0, 0), (-1, -1), REGULAR),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), scale.GUTTER - 2),
    ("TOPPADDING", (0, 0), (-1, -1), 0.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]
_RULED = [
    ("FONT", (0, 0), (-1, -1), REGULAR),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-2, -1), 7),
    ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LINEBELOW", (0, 0), (-1, 0), scale.HAIR, scale.RULE),
]
_ROW_RULE = ("LINEABOVE", (0, 0), (-1, 0), scale.HAIR, scale.RULE)


def _grid(grid: Grid, room: float) -> list[Flowable]:
    """One table; rows with a detail stand in tables of their own, so that the detail can run on."""
    overflow = _Overflow()
    shares = sum(column.share for column in grid.columns)
    widths = fitted([room * column.share / shares for column in grid.columns], _needs(grid))
    headings = [Paragraph(legible(column.title), _heading(column.numeric)) for column in grid.columns]
    if not any(row.detail or row.sentence for row in grid.rows):
        rows = [headings, *(_cells(grid, row, overflow) for row in grid.rows)]
        hairs = [("LINEBELOW", (0, 0), (-1, -2), scale.HAIR, scale.RULE)]
        table = Table(rows, colWidths=widths, style=_RULED + hairs, repeatRows=1, hAlign="LEFT")
        return [table, *overflow.whole, Spacer(0, 1)]
    story: list[Flowable] = [Table([headings], colWidths=widths, style=_RULED, hAlign="LEFT")]
    for position, row in enumerate(grid.rows):
        style = [*_RULED[:-1], _ROW_RULE] if position else _RULED[:-1]
        story.append(CondPageBreak(_ROOM_FOR_A_START))
        story.append(Table([_cells(grid, row, overflow)], colWidths=widths, style=style, hAlign="LEFT"))
        below = ((row.sentence, scale.SMALL), (row.detail, scale.BESIDE))
        story += [Paragraph(legible(text), style) for text, style in below if text]
        story.append(Spacer(0, 1))
    return [*story, *overflow.whole, Spacer(0, 1)]


def _needs(grid: Grid) -> list[float]:
    """How wide each column must be, so that none of its cells is broken."""
    cells = [[row.cells[place] for row in grid.rows] for place in range(len(grid.columns))]
    return [
        max(need(column.title, scale.HEADING), *(need(text, scale.CELL) for text in texts), 0)
        for column, texts in zip(grid.columns, cells, strict=True)
    ]


def _heading(numeric: bool) -> object:
    return scale.HEADING_NUMBER if numeric else scale.HEADING


def _cells(grid: Grid, row: Row, overflow: _Overflow) -> list[Paragraph]:
    styles = [scale.NUMBER if column.numeric else scale.CELL for column in grid.columns]
    return [Paragraph(overflow.fit(text), style) for text, style in zip(row.cells, styles, strict=True)]
