"""Whether a notice still states what is planned, besides its time: whoever words the notices is asked."""

from collections.abc import Mapping, Sequence
from typing import Any

from records.models import Notice, Treatment
from records.signals import notice_worded


def stated_of(document: Mapping[str, Any], codes: Sequence[str]) -> str:
    """A digest over what a notice on the document states to these codes; empty where nobody words it."""
    answers = notice_worded.send(Notice, document=document, codes=tuple(codes)) if codes else ()
    return next((said for _, said in answers if said), "")


def says_otherwise(notice: Notice, treatment: Treatment) -> bool:
    """Whether it states something else than the treatment's document does by now."""
    return bool(notice.stated) and stated_of(treatment.document, notice.states) != notice.stated
