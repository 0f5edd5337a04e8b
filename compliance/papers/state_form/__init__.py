"""A paper with the elements of an authority's own form, in its order, from signed records."""

from collections.abc import Sequence
from typing import Any

from compliance.papers.record_sheet.source import read_source
from compliance.papers.state_form.content import FormFor, contents_of
from compliance.rulebook.official_forms import OfficialForm
from shared.paper import draw_papers

__all__ = ["FormFor", "build"]


def build(
    form: OfficialForm,
    files: Sequence[bytes | str | dict[str, Any]],
    language: str = "en",
    paper: str = "letter",
    wanted: FormFor | None = None,
) -> bytes:
    """The form for these record files (`record-file/1`) or mere documents, as PDF bytes; at least one.

    Places and persons for whom the work was done begin on pages of their own. Same arguments, same bytes.
    Raises DocumentFaults for what cannot be read.
    """
    sources = [read_source(each) for each in files]
    return draw_papers(contents_of(form, sources, language, wanted or FormFor()), paper)
