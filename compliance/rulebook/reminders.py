"""Duties that no member of the document can show, as a pack states them. Pure."""

from dataclasses import dataclass

from compliance.rulebook.answer_times import AnswerTime, read_answer_time
from compliance.rulebook.reading import Params, as_text, as_wording, each, one_of
from compliance.rulebook.topics import TOPICS
from shared.wording import Wording


@dataclass(frozen=True)
class Reminder:
    """A duty that no member of the document can show; `covers` are the topics that it belongs to, `answered`
    by when it asks that a request for records is answered."""

    cite: str
    says: Wording
    covers: tuple[str, ...] = ()
    answered: tuple[AnswerTime, ...] = ()


def read_reminder(part: Params) -> Reminder:
    """One entry of a pack's `reminders`. Raises RuleError."""
    covers = part.maybe("covers", each(one_of(TOPICS))) or ()
    answered = part.maybe("answered", each(lambda raw: read_answer_time(part.inner(raw)))) or ()
    reminder = Reminder(part.value("cite", as_text), part.value("says", as_wording), covers, answered)
    part.done()
    return reminder
