"""A paper of a head with sections below it, the shape of most papers, and its pages."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable, PageBreak

from shared.paper.blocks import Block, Fact, Section
from shared.paper.head import draw_head
from shared.paper.pages import PAPERS, SIDE, Furniture, print_pages
from shared.paper.sections import draw_section


@dataclass(frozen=True)
class SectionedPaper:
    """The head (title, whose it is, facts, short blocks below them), the sections, what stands on every page.

    `code` is the text of a QR code in the head; empty where there is none.
    """

    title: str
    firm: str
    head: tuple[Fact, ...]
    below: tuple[Block, ...]
    sections: tuple[Section, ...]
    furniture: Furniture
    code: str = ""


def draw_papers(papers: Sequence[SectionedPaper], size: str) -> bytes:
    """At least one paper as one PDF of this size (a key of `PAPERS`), each begun on a page of its own.

    What stands on every page is the first one's. Same papers, same bytes.
    """
    width = PAPERS[size][0] - 2 * SIDE
    story: list[Flowable] = []
    for paper in papers:
        story += [PageBreak()] if story else []
        story += draw_head(paper.title, paper.firm, paper.head, paper.below, width, paper.code)
        for section in paper.sections:
            story += draw_section(section, width)
    return print_pages(story, papers[0].furniture, size)
