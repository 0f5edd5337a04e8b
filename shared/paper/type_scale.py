"""One typographic scale for all papers. Sizes and leadings in points; black, one grey, no colour."""

from reportlab.lib.colors import Color, black
from reportlab.lib.enums import TA_LEFT, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle

from shared.paper.fonts import BOLD, MONO, REGULAR

GREY = Color(0.32, 0.32, 0.32)
RULE = Color(0.62, 0.62, 0.62)
HAIR, LINE = 0.35, 0.8

GAP = 2.5
RAIL = 64.0
GUTTER = 8.0


def _style(name: str, font: str, size: float, leading: float, **more: object) -> ParagraphStyle:
    return ParagraphStyle(name, fontName=font, fontSize=size, leading=leading, splitLongWords=1, **more)


TITLE = _style("title", BOLD, 15, 17.5)
SECTION = _style("section", BOLD, 7.8, 9.2)
VALUE = _style("value", REGULAR, 7.8, 9.3)
STRONG = _style("strong", BOLD, 8.4, 10.2)
LABEL = _style("label", REGULAR, 6.2, 7.2, textColor=GREY)
BESIDE = _style("beside", REGULAR, 6.5, 7.6, textColor=GREY)
CELL = _style("cell", REGULAR, 7.6, 9, alignment=TA_LEFT)
NUMBER = _style("number", REGULAR, 7.6, 9, alignment=TA_RIGHT)
HEADING = _style("heading", REGULAR, 6.2, 7.4, textColor=GREY, alignment=TA_LEFT)
HEADING_NUMBER = _style("heading-number", REGULAR, 6.2, 7.4, textColor=GREY, alignment=TA_RIGHT)
SMALL = _style("small", REGULAR, 7, 8.3, allowWidows=0, allowOrphans=0)
CODE = _style("code", MONO, 6.2, 8.2, textColor=black)
FOOT_SIZE = 6.4
