"""How a notice ends: what to take care of, whom to call, and the firm's own words."""

from compliance.papers.notice.answers import Told
from compliance.papers.speech import Speech
from records.poison_lines import PoisonLine


def closing(told: Told, speech: Speech, own_words: str, called_off: bool) -> tuple[str, ...]:
    """The last sentences; of a treatment that is called off whom to call alone."""
    phone = told.document.firm and told.document.firm.phone
    questions = speech.word("questions", phone=phone) if phone else ""
    if called_off:
        return tuple(text for text in (questions, own_words) if text)
    said = (speech.word("care"), _ill(told.line, speech), speech.word("follow-label"), questions, own_words)
    return tuple(text for text in said if text)


def _ill(line: PoisonLine, speech: Speech) -> str:
    if not line.number:
        return speech.word("ill-elsewhere", emergency=line.emergency)
    return speech.word("ill", number=line.number, emergency=line.emergency)
