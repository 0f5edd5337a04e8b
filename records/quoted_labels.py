"""A label's own words in a text of another language: marked there as a quote, and found again by it. Pure.

In the United States what must stand on a label stands there in English (40 CFR 156.10(a)(3), from memory), and
so it does where English is the language of the land: common practice, no source. Of others it is not known.
"""

import re
from collections.abc import Iterable

from shared.wording import Wording

_IN_ENGLISH = ("us", "gb", "au", "ca")
_OF_ENGLISH = "(en inglés, como en la etiqueta) "
_AS_PRINTED = Wording("(as on the label) ", "(como en la etiqueta) ")
_QUOTE = re.compile(re.escape(_OF_ENGLISH) + "“([^”]*)”")


def label_language(places: Iterable[str]) -> str:
    """The language in which labels are printed at one of these places; '' where that is not known."""
    return "en" if {place.split("-")[0] for place in places} & set(_IN_ENGLISH) else ""


def quoted(text: str, of: str, language: str) -> str:
    """The label's words as they stand in a text of this language."""
    if not text or of == language:
        return text
    said = _OF_ENGLISH if of == "en" else _AS_PRINTED.say(language)
    return f"{said}“{text.replace('”', '’').replace('“', '‘')}”"


def english_quotes(text: str) -> list[tuple[int, int]]:
    """Where English words are quoted in the text: from which place to which."""
    return [found.span(1) for found in _QUOTE.finditer(text)]
