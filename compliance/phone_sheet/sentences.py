"""The sentences of findings as a phone fills them: texts and blanks in order, in both languages. Pure."""

from collections.abc import Mapping
from string import Formatter
from typing import Any

from compliance.rulebook.wordings import WORDINGS
from shared.wording import LANGUAGES, Blank

Parts = list[str | dict[str, str]]


def sentence(wording: str, known: Mapping[str, Blank]) -> dict[str, Parts]:
    """The sentence with what is known filled in; a blank that the phone fills stays `{"blank": name}`."""
    return {language: _parts(wording, known, language) for language in LANGUAGES}


def in_languages(said: Any) -> dict[str, str]:
    """The words in each language; text is the same in both."""
    return {language: said if isinstance(said, str) else said.say(language) for language in LANGUAGES}


def _parts(wording: str, known: Mapping[str, Blank], language: str) -> Parts:
    parts: Parts = []
    text = ""
    for before, name, _, _ in Formatter().parse(WORDINGS[wording].say(language)):
        text += before + (in_languages(known[name])[language] if name and name in known else "")
        if name and name not in known:
            parts += [text, {"blank": name}]
            text = ""
    return [*parts, text] if text else parts
