"""Evidence as paper names it: how many files, and the beginnings of their digests."""

from collections.abc import Sequence

from compliance.papers.speech import Speech, joined
from records.document.types import Evidence

_SHOWN_OF_A_DIGEST = 12


def evidence_said(evidence: Sequence[Evidence] | None, speech: Speech) -> str:
    if not evidence:
        return ""
    digests = joined((one.sha256 or "")[:_SHOWN_OF_A_DIGEST] + "…" for one in evidence)
    return speech.word("care/evidence-said", count=str(len(evidence)), digests=digests)
