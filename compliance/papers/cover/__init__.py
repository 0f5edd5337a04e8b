"""The letter on top of records that are handed over: what is enclosed, what is left out, how to check it."""

from compliance.papers.cover.content import content_of
from compliance.papers.cover.handed import Handed, Late, Signed, Since
from compliance.papers.cover.story import draw

__all__ = ["Handed", "Late", "Signed", "Since", "build"]


def build(handed: Handed, language: str, paper: str = "letter") -> bytes:
    """The letter as PDF bytes. Same arguments, same bytes."""
    return draw(content_of(handed, language), paper)
