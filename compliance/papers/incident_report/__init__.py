"""The report of an incident: what is known, for an authority, an insurer or whoever else has to be told."""

from compliance.papers.incident_report.content import content_of
from compliance.papers.incident_report.told import Step, Told
from records.document.types import TreatmentDocument
from shared.paper import draw_papers

__all__ = ["Step", "Told", "build"]


def build(
    told: Told, document: TreatmentDocument | None = None, language: str = "en", paper: str = "letter"
) -> bytes:
    """The report as PDF bytes; `document` is that of its treatment. Same arguments, same bytes."""
    return draw_papers([content_of(told, document, language)], paper)
