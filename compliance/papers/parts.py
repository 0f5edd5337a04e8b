"""Small pieces that the papers' contents are put together from."""

from collections.abc import Sequence

from compliance.papers.speech import Speech
from shared.paper import Column, Fact, Grid, Row


def asked(speech: Speech, label: str, value: str | None, beside: str = "", span: int = 1) -> Fact:
    """A fact that an inspector looks for: said to be missing where it is missing."""
    return Fact(speech.word(label), value or speech.word("head/not-recorded"), beside, span)


def known(speech: Speech, label: str, value: str | None, beside: str = "", span: int = 1) -> tuple[Fact, ...]:
    """A fact that is left out where it is not known."""
    return (Fact(speech.word(label), value, beside, span),) if value else ()


def grid(speech: Speech, columns: Sequence[Column], rows: Sequence[Row]) -> Grid:
    """A table whose column titles are wording ids; columns empty in every row are left out."""
    used = [place for place in range(len(columns)) if any(row.cells[place] for row in rows)]
    headings = [columns[place] for place in used]
    return Grid(
        tuple(Column(speech.word(one.title), one.share, one.numeric) for one in headings),
        tuple(Row(tuple(row.cells[place] for place in used), row.detail) for row in rows),
    )
