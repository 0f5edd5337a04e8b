"""Whether a notice still states what is planned, besides its time: whoever words the notices is asked."""

from collections.abc import Sequence

from records.models import Notice, Treatment
from records.signals import notice_worded


def stated_of(treatment: Treatment, codes: Sequence[str]) -> str:
    """A digest over what a notice of the treatment states to these codes; empty where nobody words it."""
    answers = notice_worded.send(Notice, treatment=treatment, codes=tuple(codes)) if codes else ()
    return next((said for _, said in answers if said), "")


def says_otherwise(notice: Notice, treatment: Treatment) -> bool:
    """Whether it states something else than the treatment does by now."""
    return bool(notice.stated) and stated_of(treatment, notice.states) != notice.stated
