"""The record sheet: the paper of facts, which is what leaves the firm."""

from dataclasses import replace
from typing import Any

from compliance.papers.record_sheet.attached import attached
from compliance.papers.record_sheet.content import content_of
from compliance.papers.record_sheet.source import SignedAs, read_source
from shared.paper import draw_papers

__all__ = ["SignedAs", "attached", "build"]


def build(
    data: bytes | str | dict[str, Any],
    language: str = "en",
    paper: str = "letter",
    base_address: str = "",
    signed_as: SignedAs | None = None,
    at_its_word: bool = False,
) -> bytes:
    """The record sheet as PDF bytes, from a record file (`record-file/1`) or a mere treatment document.

    `paper` is `letter` or `a4`; `base_address` is where records are looked up, for the QR code;
    `signed_as` what it says of its signature as a file; `at_its_word` says of what nobody signed that it was
    not verified: for a file that did not come from the service's own records. Same arguments, same bytes.
    Raises DocumentFaults for what cannot be read.
    """
    source = replace(read_source(data), at_its_word=at_its_word)
    return draw_papers([content_of(source, language, base_address, signed_as)], paper)
