"""A customer's paper as plain data, and what both papers have in common."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from compliance.papers.customer.wording import WORDS
from compliance.papers.notice.addresses import address_lines
from compliance.papers.notice.answers import Told, answer
from compliance.papers.notice.content import Line, Sender
from compliance.papers.notice.wording import WORDS as NOTICE_WORDS
from compliance.papers.speech import Speech, speech_for
from records.document.reader import read
from records.document.types import TreatmentDocument
from records.poison_lines import poison_line


@dataclass(frozen=True)
class Part:
    """A heading and short sentences; `ticked`: things to do, each with a box."""

    heading: str
    sentences: tuple[str, ...]
    ticked: bool = False


@dataclass(frozen=True)
class CustomerPaper:
    """What the customer gets before or after the work."""

    language: str
    title: str
    sender: Sender
    lines: tuple[Line, ...]
    parts: tuple[Part, ...]


@dataclass(frozen=True)
class Telling:
    """A document with its words in one language."""

    told: Told
    speech: Speech

    @property
    def document(self) -> TreatmentDocument:
        return self.told.document

    def say(self, name: str, **blanks: str) -> str:
        return self.speech.word(name, **blanks)

    def line(self, code: str) -> Line:
        """What the document answers to a code of a notice."""
        notice = speech_for(self.document, self.speech.language, NOTICE_WORDS)
        return Line(code, self.say(code), answer(code, self.told, notice))

    def stated(self, codes: Iterable[str]) -> tuple[Line, ...]:
        """The lines of these codes that the document answers."""
        return tuple(line for code in codes if (line := self.line(code)).value)

    def paper(self, title: str, lines: Iterable[Line], parts: Iterable[Part]) -> CustomerPaper:
        firm = self.document.firm
        sender = Sender(
            (firm and firm.name) or "", address_lines(firm and firm.address), (firm and firm.phone) or ""
        )
        shown = tuple(part for part in parts if part.sentences)
        return CustomerPaper(self.speech.language, self.say(title), sender, tuple(lines), shown)

    def call(self) -> Part:
        """Whom to call."""
        phone = self.document.firm and self.document.firm.phone
        line = self.told.line
        ill = (
            self.say("ill", number=line.number, emergency=line.emergency)
            if line.number
            else self.say("ill-elsewhere", emergency=line.emergency)
        )
        questions = [self.say("questions", phone=phone)] if phone else []
        return Part(self.say("call"), (*questions, ill, self.say("follow-label")))


def telling(
    document: TreatmentDocument | bytes | str | dict[str, Any], language: str, done: bool = False
) -> Telling:
    """A document told of by its planned time, or (`done`) by when the work began.

    Raises DocumentFaults for a document that can't be read.
    """
    stated = document if isinstance(document, TreatmentDocument) else read(document)
    speech = speech_for(stated, language, WORDS)
    timing = stated.timing
    first = timing and ((done and timing.started_at) or timing.planned_at)
    line = poison_line(stated.model_dump(by_alias=True))
    return Telling(Told(stated, speech.local(first) if first else None, None, (), 0, line), speech)
