"""Where signs stand at a site: a list of one page with boxes to tick and room for the time."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from reportlab.platypus import Paragraph, Spacer, Table

from compliance.papers.notice.lettering import RULED, Box, lettering
from compliance.papers.posting_sign.content import points
from compliance.papers.posting_sign.wording import WORDS
from compliance.papers.speech import joined
from compliance.rulebook.kinds.posting import Posting
from shared.paper import (
    PAPERS,
    Fact,
    Furniture,
    draw_head,
    print_pages,
)
from shared.paper.fonts import legible
from shared.paper.pages import SIDE
from shared.quantities import Quantity, from_fraction
from shared.wording import Blank, fill

_SIZE = 11.0
_SHARES = (0.06, 0.42, 0.12, 0.2, 0.2)
_TICK = 2
_TO_WRITE = "__________"


def places_of(
    kind: Posting, access: Sequence[str], perimeter: Quantity | None, language: str
) -> tuple[str, ...]:
    """Each access point, and where the rule sets a spacing so many points along the edge that none is farther
    from the next; at least as many as the rule asks for."""
    along: list[str] = []
    if kind.spacing and perimeter:
        count = max(1, ceil(points(perimeter) / points(kind.spacing)))
        along = [_along(perimeter, place, count, language) for place in range(count)]
    found = (*access, *along)
    return (*found, *(_TO_WRITE for _ in range(kind.least - len(found))))


def placement_list(
    kind: Posting,
    site: str,
    access: Sequence[str],
    perimeter: Quantity | None = None,
    language: str = "en",
    paper: str = "letter",
    firm: str = "",
) -> bytes:
    """The list as PDF. Same arguments, same bytes."""
    say = _Say(language)
    places = places_of(kind, access, perimeter, language)
    heads = ("#", *(say(name) for name in ("place", "stands", "posted-at", "removed-at")))
    rows = [(str(number), place, "", "", "") for number, place in enumerate(places, start=1)]
    width = PAPERS[paper][0] - 2 * SIDE
    head = draw_head(say("placement"), firm, (Fact(say("place"), site),), (), width)
    notes = _notes(kind, perimeter, len(places) - len(access), say)
    told = [Paragraph(legible(text), lettering(_SIZE).body) for text in notes]
    furniture = Furniture(
        title=joined((say("placement"), site), " – "),
        author=firm,
        subject=site,
        language=language,
        identity=site,
        caution=say("foot"),
        page_words=say("page"),
    )
    return print_pages([*head, *told, Spacer(0, _SIZE), _ticked(heads, rows, width)], furniture, paper)


@dataclass(frozen=True)
class _Say:
    """The words of one language."""

    language: str

    def __call__(self, name: str, **blanks: Blank) -> str:
        return fill(WORDS[name], blanks, self.language)


def _notes(kind: Posting, perimeter: Quantity | None, count: int, say: _Say) -> list[str]:
    """What the crew does, and what the rule says of the places."""
    notes = [say("placement-each")]
    if kind.place:
        notes.append(say("placement-rule", text=kind.place))
    if kind.spacing and perimeter:
        notes.append(say("placement-spacing", perimeter=perimeter, spacing=kind.spacing, count=str(count)))
    return notes


def _ticked(heads: Sequence[str], rows: Sequence[Sequence[str]], width: float) -> Table:
    """A table with a box to tick and room for two times in each row."""
    type_ = lettering(_SIZE)
    lines = [[Paragraph(legible(text), type_.label) for text in heads]]
    lines += [
        [Box(_SIZE) if at == _TICK else Paragraph(legible(text), type_.body) for at, text in enumerate(row)]
        for row in rows
    ]
    return Table(lines, colWidths=[width * share for share in _SHARES], style=RULED, repeatRows=1)


def _along(perimeter: Quantity, place: int, count: int, language: str) -> str:
    distance = from_fraction(perimeter.exact * place / count, perimeter.unit, 3)
    return fill(WORDS["perimeter-point"], {"distance": distance.say(language)}, language)
