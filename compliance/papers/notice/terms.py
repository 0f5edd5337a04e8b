"""Who a notice is for, what is asked of it, and how it begins by that."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from compliance.papers.speech import Speech, joined
from compliance.rulebook.contents import Content


@dataclass(frozen=True)
class Reader:
    """Who is told: a word of the list `recipient`; where the letter goes; `walk`, the place on the round."""

    to: str
    name: str = ""
    address: tuple[str, ...] = ()
    walk: int = 0


@dataclass(frozen=True)
class Terms:
    """What the rules ask of it, and what the firm adds.

    `nothing_else`: a law forbids other words, so that letterhead, own words and what was not asked for are left
    out. `dates`: how many alternates must be named. `own_words` by language: checked by `own_words.faults_of`
    when the firm sets them. `replaces`: the day of an earlier notice to this reader, which this one replaces;
    `on_again`: that one said that the visit is off.
    `filled`: what was typed for lines that no data answers, by `Line.key`.
    """

    contents: Sequence[Content] = ()
    languages: Sequence[str] = ("en",)
    dates: int = 0
    nothing_else: bool = False
    own_words: Mapping[str, str] = field(default_factory=dict)
    called_off: bool = False
    replaces: date | None = None
    on_again: bool = False
    filled: Mapping[str, str] = field(default_factory=dict)


def title_of(terms: Terms) -> str:
    if terms.called_off:
        return "title-off"
    return "title-changed" if terms.replaces else "title"


def opening_of(reader: Reader, terms: Terms, speech: Speech, day: str) -> str:
    """`day`: of the visit, as it is said."""
    if terms.called_off:
        return speech.word("open-off")
    said = "on-again" if terms.on_again else "replaces"
    replaces = terms.replaces and speech.word(said, date=speech.long_date(terms.replaces), day=day)
    return joined((replaces or "", speech.word(f"open-{reader.to}")), " ")
