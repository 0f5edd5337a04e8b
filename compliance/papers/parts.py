"""Small pieces that the papers' contents are put together from."""

from collections.abc import Sequence

from compliance.papers.speech import Speech
from records.document.types import Record
from shared.paper import Column, Fact, Grid, Row


def asked(
    speech: Speech, label: str, value: str | None, beside: str = "", span: int = 1, section: str = ""
) -> Fact:
    """A fact that an inspector looks for: that it is missing, or its `section` withheld, is said."""
    return Fact(speech.word(label), value or speech.missing(section), beside, span)


def listed(
    speech: Speech,
    items: Sequence[object] | None,
    said: str,
    none: str = "head/none",
    section: str = "",
) -> str:
    """A list as said: one that is left out was not recorded, or its `section` is withheld, and an empty one
    says that there is none."""
    if items is None:
        return speech.missing(section)
    return said if items else speech.word(none)


def known(speech: Speech, label: str, value: str | None, beside: str = "", span: int = 1) -> tuple[Fact, ...]:
    """A fact that is left out where it is not known."""
    return (Fact(speech.word(label), value, beside, span),) if value else ()


def done(speech: Speech, record: Record, label: str, value: str | None, beside: str = "") -> tuple[Fact, ...]:
    """A fact of the spraying: asked for, unless the crew stood down and there was none."""
    if record.result == "stood-down":
        return known(speech, label, value, beside)
    return (asked(speech, label, value, beside),)


def grid(speech: Speech, columns: Sequence[Column], rows: Sequence[Row], whole: bool = False) -> Grid:
    """A table whose column titles are wording ids; columns empty in every row are left out unless `whole`."""
    filled = [place for place in range(len(columns)) if any(row.cells[place] for row in rows)]
    used = range(len(columns)) if whole or not filled else filled
    headings = [columns[place] for place in used]
    return Grid(
        tuple(Column(speech.word(one.title), one.share, one.numeric) for one in headings),
        tuple(Row(tuple(row.cells[place] for place in used), row.detail, row.sentence) for row in rows),
    )
