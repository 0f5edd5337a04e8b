"""Materials by their words, in whatever order, case and number they were typed. Pure."""

import re
import unicodedata
from collections.abc import Iterable
from itertools import chain

_EITHER = re.compile(r"\b(?:or|and|o|u|y|e)\b|[/;]", re.IGNORECASE)
_FILLERS = frozenset({"the", "of", "a", "el", "la", "los", "las", "de"})


def words_of_text(text: str) -> frozenset[str]:
    """`Copper gutters` and `gutter, copper` have the same words."""
    bare = unicodedata.normalize("NFD", text.casefold())
    words = re.findall(r"[^\W_]+", re.sub(r"[\u0300-\u036f]", "", bare))
    return frozenset(_singular(word) for word in words) - _FILLERS


def is_ruled_out(entry: str, material: str, kind: Iterable[str], kinds: Iterable[str]) -> bool | None:
    """Whether an entry of a label means a surface of this material. `kind`: what the surface is called,
    `kinds`: what any surface may be called.

    All words of the entry on the surface: it does. All words of the material in a longer entry: it may.
    """
    stated = words_of_text(material)
    here = stated.union(*map(words_of_text, kind))
    bare = stated.difference(*map(words_of_text, kinds))
    entries = [words for part in _EITHER.split(entry) if (words := words_of_text(part))]
    if any(words <= here for words in entries):
        return True
    return None if bare and bare <= frozenset(chain(*entries)) else False


def _singular(word: str) -> str:
    """One stem for both numbers: `shingle`, `shingles`; `canalón`, `canalones`."""
    stem = word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word
    return stem[:-1] if len(stem) > 4 and re.search("[dlnrz]e$", stem) else stem
