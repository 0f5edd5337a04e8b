"""Page furniture for every printed paper: fonts, type scale, blocks, pages, QR codes.

A paper is made in two steps: its content as plain `blocks`, then `draw_papers` or `print_pages` draws them.
The same blocks give the same bytes every time.
"""

from shared.paper.blocks import Block, Code, Column, Fact, Facts, Grid, Note, Row, Section, as_json
from shared.paper.head import draw_head
from shared.paper.pages import PAPERS, Furniture, print_pages
from shared.paper.sectioned import SectionedPaper, draw_papers
from shared.paper.sections import draw_section

__all__ = [
    "PAPERS",
    "Block",
    "Code",
    "Column",
    "Fact",
    "Facts",
    "Furniture",
    "Grid",
    "Note",
    "Row",
    "Section",
    "SectionedPaper",
    "as_json",
    "draw_head",
    "draw_papers",
    "draw_section",
    "print_pages",
]
