"""What a notice states of the visit besides its time, as a digest to compare with what is planned later."""

from collections.abc import Iterable, Mapping, Sequence

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
_MARK = "="


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


def marks_of(typed: Mapping[str, str]) -> tuple[str, ...]:
    """Beside the codes, what was typed: each key with a digest of the text."""
    return tuple(f"{key}{_MARK}{_short(text)}" for key, text in typed.items())


def without_marks(states: Iterable[str]) -> tuple[str, ...]:
    """The codes alone."""
    return tuple(one for one in states if _MARK not in one)


def typed_anew(states: Iterable[str], typed: Mapping[str, str]) -> bool:
    """Whether another text is typed by now than one that is marked; where none is, nothing contradicts it."""
    marks = (one.rpartition(_MARK) for one in states if _MARK in one)
    return any(key in typed and _short(typed[key]) != mark for key, _, mark in marks)


def _short(text: str) -> str:
    return digest(text.encode())[7:23]
