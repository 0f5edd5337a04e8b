"""Materials by their words, in whatever order, case, number and language they were typed. Pure."""

import re
import unicodedata
from collections.abc import Iterable
from itertools import chain

from compliance.rulebook.materials import METAL, METALS, SAME, SEEN_ELSEWHERE

_EITHER = re.compile(r"\b(?:or|and|o|u|y|e)\b|[/;]", re.IGNORECASE)
_FILLERS = frozenset({"the", "of", "a", "el", "la", "los", "las", "de"})


def words_of_text(text: str) -> frozenset[str]:
    """`Copper gutters` and `gutter, copper` have the same words, and `cobre` is the same as `copper`."""
    return frozenset(_SAME.get(word, word) for word in _bare(text)) - _FILLERS


def is_ruled_out(entry: str, material: str, kind: Iterable[str], kinds: Iterable[str]) -> bool | None:
    """Whether an entry of a label means a surface of this material. `kind`: what the surface is called,
    `kinds`: what any surface may be called.

    All words of the entry on the surface: it does. All words of the material in a longer entry: it may, and so
    may a material of which no word is known here.
    """
    stated = words_of_text(material)
    here = stated.union(*map(words_of_text, kind))
    here |= {METAL} if here & METALS else set()
    bare = stated.difference(*map(words_of_text, kinds))
    entries = [words for part in _EITHER.split(entry) if (words := words_of_text(part) - _ANY)]
    if any(words <= here for words in entries):
        return True
    return None if bare and (bare <= frozenset(chain(*entries)) or not bare & _KNOWN) else False


def _bare(text: str) -> list[str]:
    bare = unicodedata.normalize("NFD", text.casefold())
    words = re.findall(r"[^\W_]+", re.sub(r"[\u0300-\u036f]", "", bare))
    return [_singular(word) for word in words]


def _singular(word: str) -> str:
    """One stem for both numbers: `shingle`, `shingles`; `canalón`, `canalones`."""
    stem = word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word
    return stem[:-1] if len(stem) > 4 and re.search("[dlnrz]e$", stem) else stem


_SAME = {other: name for name, others in SAME.items() for one in others for other in _bare(one)}
_KNOWN = frozenset(SAME) | METALS | frozenset(word for one in SEEN_ELSEWHERE for word in _bare(one))
_ANY = frozenset(word for one in ("surfaces", "materials", "superficies", "materiales") for word in _bare(one))
