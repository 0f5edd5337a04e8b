"""Materials by their words, in whatever order, case, number and language they were typed. Pure."""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import chain
from typing import Self

from compliance.rulebook.materials import METAL, METALS, SAME, SEEN_ELSEWHERE

_MATERIALS_AT_HAND = 1000
_EITHER = re.compile(r"\b(?:or|and|o|u|y|e)\b|[/;]", re.IGNORECASE)
_ACCENT = re.compile(r"[\u0300-\u036f]")
_WORD = re.compile(r"[^\W_]+")
_PLURAL_IN_ES = re.compile(r"[dlnrz]e$")
_NEGATED = re.compile(
    r"\b(?:no(?!\W*\d)|not|non|nor|without|except|free|sin|ni|salvo|excepto|libre|ohne|nicht|kein\w*)\b",
    re.IGNORECASE,
)
_FILLERS = frozenset({"the", "of", "a", "el", "la", "los", "las", "de"})


@lru_cache(maxsize=_MATERIALS_AT_HAND)
def words_of_text(text: str) -> frozenset[str]:
    """`Copper gutters` and `gutter, copper` have the same words, and `cobre` is the same as `copper`."""
    return frozenset(_SAME.get(word, word) for word in _bare(text)) - _FILLERS


@dataclass(frozen=True)
class RuledOut:
    """What a label rules out: for each entry the words of each thing that it names; and by which words
    surfaces of each kind are called. Read once, asked of every surface."""

    entries: tuple[tuple[frozenset[str], ...], ...]
    called: Mapping[str, frozenset[str]]

    @classmethod
    def read(cls, entries: Iterable[str], kinds: Mapping[str, Iterable[str]]) -> Self:
        """Entries as typed, and the names of each kind of surface."""
        parts = (map(words_of_text, _EITHER.split(entry)) for entry in entries)
        named = {kind: frozenset(chain(*map(words_of_text, names))) for kind, names in kinds.items()}
        return cls(tuple(tuple(words - _ANY for words in part if words - _ANY) for part in parts), named)

    @cached_property
    def _of_any_kind(self) -> frozenset[str]:
        return frozenset(chain(*self.called.values()))

    def bars(self, material: str, kind: str) -> bool | None:
        """Whether it means a surface of this material and kind.

        All words of an entry on the surface: it does, unless the material says of something that it is not
        there: then it may. All words of the material in a longer entry: it may, and so may a material of which
        no word is known here.
        """
        stated = words_of_text(material)
        here = stated | self.called.get(kind, frozenset())
        here |= {METAL} if here & METALS else set()
        meant = [words for words in chain(*self.entries) if words <= here]
        if meant:
            negated = words_of_text(" ".join(_NEGATED.findall(material)))
            return None if negated and not any(words & negated for words in meant) else True
        bare = stated - self._of_any_kind
        may = not bare & _KNOWN or any(bare <= frozenset(chain(*entry)) for entry in self.entries)
        return None if bare and self.entries and may else False


def _bare(text: str) -> list[str]:
    bare = unicodedata.normalize("NFD", text.casefold())
    words = _WORD.findall(_ACCENT.sub("", bare))
    return [_singular(word) for word in words]


def _singular(word: str) -> str:
    """One stem for both numbers: `shingle`, `shingles`; `canalón`, `canalones`."""
    stem = word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word
    return stem[:-1] if len(stem) > 4 and _PLURAL_IN_ES.search(stem) else stem


_SAME = {other: name for name, others in SAME.items() for one in others for other in _bare(one)}
_KNOWN = frozenset(SAME) | METALS | frozenset(word for one in SEEN_ELSEWHERE for word in _bare(one))
_ANY = frozenset(word for one in ("surfaces", "materials", "superficies", "materiales") for word in _bare(one))
