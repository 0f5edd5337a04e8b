"""Forms drawn as PDF pages, each beginning on its own."""

from collections.abc import Sequence

from reportlab.platypus import Flowable, PageBreak

from compliance.papers.state_form.content import FormPaper
from compliance.papers.state_form.wording import WORDS
from compliance.rulebook.official_forms import OfficialForm
from shared.paper import PAPERS, Furniture, draw_head, draw_section, print_pages
from shared.paper.pages import SIDE
from shared.wording import fill


def draw(form: OfficialForm, papers: Sequence[FormPaper], language: str, paper: str) -> bytes:
    """PDF bytes on `paper` (`letter` or `a4`)."""
    width = PAPERS[paper][0] - 2 * SIDE
    story: list[Flowable] = []
    for one in papers:
        story += [PageBreak()] if story else []
        story += draw_head(one.title, one.firm, one.head, one.below, width)
        for section in one.sections:
            story += draw_section(section, width)
    return print_pages(story, _furniture(form, papers, language), paper)


def _furniture(form: OfficialForm, papers: Sequence[FormPaper], language: str) -> Furniture:
    title = form.title.say(language)
    return Furniture(
        title=title,
        author=papers[0].firm,
        subject=form.cite,
        language=language,
        identity=f"{title} · {form.cite}",
        caution=WORDS["form/foot"].say(language),
        page_words=fill(WORDS["head/page"], {}, language),
    )
