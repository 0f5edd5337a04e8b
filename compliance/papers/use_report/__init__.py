"""The use report: what an authority asks to be told of a month or a year, or the firm's own summary of one."""

from typing import Any

from compliance.papers.use_report.content import Sent, content_of
from shared.paper import draw_papers

__all__ = ["Sent", "build"]


def build(content: dict[str, Any], sent: Sent | None, language: str = "en", paper: str = "letter") -> bytes:
    """The report (`use-report/1`) as PDF bytes; `sent` None: it is a draft. Same arguments, same bytes."""
    return draw_papers([content_of(content, sent, language)], paper)
