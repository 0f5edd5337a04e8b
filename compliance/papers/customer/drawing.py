"""A customer's paper as PDF and as the text of an e-mail."""

from collections.abc import Iterable

from reportlab.platypus import Flowable, KeepTogether, Paragraph, Spacer, Table

from compliance.papers.customer.content import CustomerPaper, Part
from compliance.papers.customer.wording import WORDS
from compliance.papers.notice.lettering import BARE, Box, Lettering, lettering, ruled_lines
from shared.paper import PAPERS, Furniture, print_pages
from shared.paper.fonts import BOLD, legible
from shared.paper.pages import SIDE

_SIZE = 11.0
_TICK = 20.0


def draw(content: CustomerPaper, paper: str = "letter") -> bytes:
    """The paper as PDF. Same arguments, same bytes."""
    width = PAPERS[paper][0] - 2 * SIDE
    type_ = lettering(_SIZE)
    story = [*_head(content, type_), ruled_lines(content.lines, width, type_), Spacer(0, type_.gap)]
    for part in content.parts:
        story.append(
            KeepTogether([Paragraph(legible(part.heading), type_.label), *_sentences(part, width, type_)])
        )
        story.append(Spacer(0, type_.gap))
    furniture = Furniture(
        title=content.title,
        author=content.sender.name,
        subject=content.title,
        language=content.language,
        identity=content.sender.name,
        caution=WORDS["follow-label"].say(content.language),
        page_words="{page} / {pages}",
    )
    return print_pages(story, furniture, paper)


def text_of(content: CustomerPaper) -> tuple[str, str]:
    """Subject and text of an e-mail that says the same."""
    facts = "\n".join(f"{line.label}: {line.value}".replace("\n", ", ") for line in content.lines)
    parts = [
        "\n".join((part.heading, *(f"{'[ ]' if part.ticked else '-'} {text}" for text in part.sentences)))
        for part in content.parts
    ]
    sender = "\n".join(
        text for text in (content.sender.name, *content.sender.address, content.sender.phone) if text
    )
    return content.title, "\n\n".join((content.title, facts, *parts, sender)) + "\n"


def _head(content: CustomerPaper, type_: Lettering) -> Iterable[Flowable]:
    sender = content.sender
    rest = " · ".join(text for text in (*sender.address, sender.phone) if text)
    yield Paragraph(f'<font name="{BOLD}">{legible(sender.name)}</font>', type_.body)
    yield Paragraph(legible(rest), lettering(9).body)
    yield Spacer(0, type_.gap * 2)
    yield Paragraph(legible(content.title), type_.title)
    yield Spacer(0, type_.gap)


def _sentences(part: Part, width: float, type_: Lettering) -> list[Flowable]:
    if not part.ticked:
        return [Paragraph(legible(text), type_.body) for text in part.sentences]
    rows = [[Box(_SIZE), Paragraph(legible(text), type_.body)] for text in part.sentences]
    return [Table(rows, colWidths=[_TICK, width - _TICK], style=BARE)]
