"""The report's content drawn as PDF pages."""

from compliance.papers.incident_report.content import IncidentReport
from shared.paper import PAPERS, draw_head, draw_section, print_pages
from shared.paper.pages import SIDE


def draw(report: IncidentReport, paper: str) -> bytes:
    """PDF bytes on `paper` (`letter` or `a4`)."""
    width = PAPERS[paper][0] - 2 * SIDE
    story = draw_head(report.title, report.firm, report.head, report.below, width)
    for section in report.sections:
        story += draw_section(section, width)
    return print_pages(story, report.furniture, paper)
