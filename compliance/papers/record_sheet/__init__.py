"""The record sheet: the paper of facts, which is what leaves the firm."""

from collections.abc import Mapping
from typing import Any

from compliance.papers.record_sheet.content import content_of
from compliance.papers.record_sheet.source import read_source
from compliance.papers.record_sheet.story import draw


def build(file: Mapping[str, Any], language: str = "en", paper: str = "letter", base_address: str = "") -> bytes:
    """The record sheet as PDF bytes, from a record file (`record-file/1`) or a mere treatment document.

    Same arguments, same bytes. Raises DocumentFaults for a file that cannot be read.
    """
    return draw(content_of(read_source(file), language, base_address), paper)
