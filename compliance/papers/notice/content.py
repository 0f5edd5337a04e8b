"""A notice as plain data: who it is for, and what it says in each of its languages."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from compliance.papers.notice.addresses import address_lines
from compliance.papers.notice.answers import Told, answer, own_label
from compliance.papers.notice.closing import closing
from compliance.papers.notice.label_words import BLANK
from compliance.papers.notice.terms import Reader, Terms, opening_of, title_of
from compliance.papers.notice.wording import WORDS
from compliance.papers.speech import Speech, speech_for
from compliance.rulebook.contents import CODES
from records.document.reader import read
from records.document.types import TreatmentDocument
from records.poison_lines import poison_line
from records.quoted_labels import english_quotes

BASICS = ("place", "date", "time", "products", "purpose", "firm", "contact", "poison_line")
"""What a notice says without being asked, unless the law wants nothing else on it."""


@dataclass(frozen=True)
class Line:
    """A labelled thing; an empty value is a blank to be filled in by hand. `key` is the same in all languages:
    the code, with the law's words where the code has many."""

    code: str
    label: str
    value: str
    key: str = ""

    @property
    def is_open(self) -> bool:
        """Whether something of it is left to be written."""
        return not self.value or BLANK in self.value


@dataclass(frozen=True)
class Side:
    """The notice in one language."""

    language: str
    title: str
    subject: str
    greeting: str
    opening: str
    lines: tuple[Line, ...]
    statements: tuple[str, ...]
    closing: tuple[str, ...]
    speech: Speech


@dataclass(frozen=True)
class Sender:
    """The firm as its letterhead shows it."""

    name: str
    address: tuple[str, ...]
    phone: str


@dataclass(frozen=True)
class NoticeContent:
    """One notice to one reader."""

    reader: Reader
    sender: Sender
    letterhead: bool
    sides: tuple[Side, ...]
    place: str
    planned_at: datetime | None
    until: datetime | None
    alternates: tuple[date, ...]
    called_off: bool
    replaces: date | None

    @property
    def quotes(self) -> tuple[Line, ...]:
        """The lines that quote an English label in another language, in the words of the first one."""
        keys = {line.key for side in self.sides for line in side.lines if english_quotes(line.value)}
        return tuple(line for line in self.sides[0].lines if line.key in keys)

    @property
    def open_lines(self) -> tuple[Line, ...]:
        """The lines that have a blank, each once, in the words of the first language."""
        found = [line for side in self.sides for line in side.lines if line.is_open]
        return tuple({line.key: line for line in reversed(found)}.values())


def content_of(
    document: TreatmentDocument | bytes | str | dict[str, Any],
    reader: Reader,
    terms: Terms,
    until: datetime | None = None,
    alternates: Sequence[date] = (),
) -> NoticeContent:
    """The notice of a planned treatment. Raises DocumentFaults for a document that can't be read."""
    stated = document if isinstance(document, TreatmentDocument) else read(document)
    planned = stated.timing and stated.timing.planned_at
    hearing = speech_for(stated, "en", WORDS)
    moment = hearing.local(planned) if planned else None
    end = until.astimezone(moment.tzinfo) if until and moment and until > moment else None
    told = Told(
        stated, moment, end, tuple(alternates), terms.dates, poison_line(stated.model_dump(by_alias=True))
    )
    return NoticeContent(
        reader=reader,
        sender=_sender(stated),
        letterhead=not terms.nothing_else,
        sides=tuple(_side(told, reader, terms, speech_for(stated, one, WORDS)) for one in terms.languages),
        place=answer("place", told, hearing),
        planned_at=moment,
        until=end,
        alternates=tuple(alternates),
        called_off=terms.called_off,
        replaces=terms.replaces,
    )


def _sender(document: TreatmentDocument) -> Sender:
    firm = document.firm
    return Sender((firm and firm.name) or "", address_lines(firm and firm.address), (firm and firm.phone) or "")


def _side(told: Told, reader: Reader, terms: Terms, speech: Speech) -> Side:
    title = speech.word(title_of(terms))
    place, day = answer("place", told, speech), answer("date", told, speech)
    lines, statements = _asked(told, terms, speech)
    own = terms.own_words.get(speech.language, "").strip()
    return Side(
        language=speech.language,
        title=title,
        subject=speech.word("subject", title=title, date=day, place=place),
        greeting=speech.word("dear", name=reader.name) if reader.name else speech.word(f"dear-{reader.to}"),
        opening=opening_of(reader, terms, speech, day),
        lines=lines,
        statements=statements,
        closing=() if terms.nothing_else else closing(told, speech, own, terms.called_off),
        speech=speech,
    )


def _asked(told: Told, terms: Terms, speech: Speech) -> tuple[tuple[Line, ...], tuple[str, ...]]:
    """What the rules ask for, each once, in one order, then the blanks of no code; and what the law prints."""
    asked = list(terms.contents)
    codes = {one.code for one in asked if one.code not in ("other", "statement")}
    codes |= set() if terms.nothing_else else set(BASICS)
    codes |= {"alternates"} if told.alternates or terms.dates else set()
    if terms.called_off:
        codes, asked = {"place", "date", "firm", "contact"}, []
    lines = [
        Line(code, _label(code, told, speech), answer(code, told, speech), code)
        for code in CODES
        if code in codes
    ]
    printed = [one for one in asked if one.code == "statement"]
    of_no_data = [one for one in asked if one.code == "other"] + [one for one in printed if not one.prints]
    lines += [Line(one.code, own_label(one.said, speech), "", one.key) for one in of_no_data]
    statements = tuple(one.prints.say(speech.language) for one in printed if one.prints)
    return _once(_typed(line, terms.filled) for line in lines), tuple(dict.fromkeys(statements))


def _typed(line: Line, filled: Mapping[str, str]) -> Line:
    """With what was typed, where data leave something open."""
    typed = filled.get(line.key) if line.is_open else None
    return replace(line, value=typed) if typed else line


def _once(lines: Iterable[Line]) -> tuple[Line, ...]:
    """A line that two rules ask for stands once."""
    return tuple(dict.fromkeys(lines))


def _label(code: str, told: Told, speech: Speech) -> str:
    site = told.document.site
    american = "us" in ((site and site.jurisdictions) or ())
    return speech.word("registration_numbers-us" if code == "registration_numbers" and american else code)
