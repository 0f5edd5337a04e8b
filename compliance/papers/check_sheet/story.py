"""The check sheet's content drawn as PDF pages."""

from compliance.papers.check_sheet.content import CheckSheet
from shared.paper import PAPERS, draw_head, draw_section, print_pages
from shared.paper.pages import SIDE


def draw(sheet: CheckSheet, paper: str) -> bytes:
    """PDF bytes on `paper` (`letter` or `a4`)."""
    width = PAPERS[paper][0] - 2 * SIDE
    story = draw_head(sheet.title, sheet.firm, sheet.head, sheet.below, width)
    for section in sheet.sections:
        story += draw_section(section, width)
    return print_pages(story, sheet.furniture, paper)
