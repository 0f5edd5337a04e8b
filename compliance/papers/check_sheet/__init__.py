"""The check sheet: the paper of findings; it stays in the house unless it is asked for."""

from collections.abc import Mapping
from typing import Any

from compliance.papers.check_sheet.content import CheckSubject, content_of
from compliance.papers.check_sheet.subject import stored_check_of, subject_of
from shared.paper import draw_papers

__all__ = ["CheckSubject", "build", "stored_check_of", "subject_of"]


def build(
    check: Mapping[str, Any], subject: CheckSubject, language: str = "en", paper: str = "letter"
) -> bytes:
    """The check sheet as PDF bytes, from a stored check (`stored-check/1`) alone.

    Same arguments, same bytes. No rule is evaluated: the stored sentences are printed.
    """
    return draw_papers([content_of(check, subject, language)], paper)
