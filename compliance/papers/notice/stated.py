"""What a notice states of the visit besides its time, as a digest to compare with what is planned later."""

from collections.abc import Sequence

from compliance.papers.notice.answers import BLANK, Told, answer
from compliance.papers.notice.wording import WORDS
from compliance.papers.speech import speech_for
from records.document.types import TreatmentDocument
from records.poison_lines import poison_line
from shared.canonical import canonical_bytes
from shared.digests import digest

OF_THE_VISIT = (
    "place",
    "products",
    "registration_numbers",
    "active_ingredients",
    "purpose",
    "precautions",
    "reentry",
    "label_warnings",
    "applicator",
    "licence",
)
"""Its time is compared for itself, and who the firm is says nothing of the visit."""


def answered(document: TreatmentDocument, codes: Sequence[str]) -> dict[str, str]:
    """The answers of data to those of the codes that are of the visit and leave nothing to be written."""
    speech = speech_for(document, "en", WORDS)
    planned = document.timing and document.timing.planned_at
    moment = speech.local(planned) if planned else None
    told = Told(document, moment, None, (), 0, poison_line(document.model_dump(by_alias=True)))
    found = {code: answer(code, told, speech) for code in OF_THE_VISIT if code in codes}
    return {code: text for code, text in found.items() if text and BLANK not in text}


def digest_of(document: TreatmentDocument, codes: Sequence[str]) -> str:
    return digest(canonical_bytes(answered(document, codes)))
