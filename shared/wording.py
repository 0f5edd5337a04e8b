"""Sentences with named blanks, in every language that the product speaks.

A sentence is kept by an id, so that a stored finding or fault can be said again later, and in another
language. Blanks are filled with text or with anything that can say itself (a quantity, another wording).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from string import Formatter
from typing import Protocol

LANGUAGES = ("en", "es")
_LONGEST_ECHO = 60


class Sayable(Protocol):
    """Something that a person reads differently in each language."""

    def say(self, language: str) -> str: ...


Blank = str | Sayable
Blanks = Mapping[str, Blank]


@dataclass(frozen=True)
class Wording:
    """One sentence or phrase in English and Spanish; `{name}` marks a blank."""

    en: str
    es: str

    def say(self, language: str) -> str:
        """The text as it stands, blanks unfilled. Raises KeyError for a language not spoken."""
        if language not in LANGUAGES:
            raise KeyError(f"no such language: {language}; there are {', '.join(LANGUAGES)}")
        return self.en if language == "en" else self.es

    def blank_names(self, language: str) -> frozenset[str]:
        """The names of the blanks in one language (both languages must have the same)."""
        return frozenset(name for _, name, _, _ in Formatter().parse(self.say(language)) if name)


Catalogue = Mapping[str, Wording]


def fill(wording: Wording, blanks: Blanks, language: str) -> str:
    """A wording with its blanks filled. Raises KeyError if a blank is missing."""
    filled = {name: blank if isinstance(blank, str) else blank.say(language) for name, blank in blanks.items()}
    return wording.say(language).format_map(filled)


def say(catalogue: Catalogue, wording_id: str, blanks: Blanks, language: str) -> str:
    """The sentence with this id in this language, e.g. `expected an area, got 3000 gal`."""
    return fill(catalogue[wording_id], blanks, language)


def shortened(text: str) -> str:
    """What was given, short enough to be repeated in a sentence."""
    return text if len(text) <= _LONGEST_ECHO else text[:_LONGEST_ECHO] + "…"
