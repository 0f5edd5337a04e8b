"""Registration numbers as people type them: which are one and the same, and which are none."""

import re
from functools import lru_cache

_PART, _DIGIT = re.compile(r"[^\W_]+"), re.compile("[1-9]")
_WORDS = frozenset({"epa", "reg", "registration", "no", "nr", "number", "mapp"})
"""What stands before a number without being part of it."""
_AT_HAND = 1000
_EPA = re.compile("[0-9]+(-[0-9]+){1,2}")


@lru_cache(maxsize=_AT_HAND)
def registration_key(text: str | None) -> str | None:
    """What two spellings of one number share: `99999-12`, ` 99999 - 12`, `EPA Reg. No. 99999-12`.

    None for what is no number: nothing, `n/a`, `none`, `-`, `0`.
    """
    parts = _PART.findall((text or "").casefold())
    while parts and parts[0] in _WORDS:
        parts = parts[1:]
    return "-".join(parts) if _DIGIT.search("".join(parts)) else None


def starts_with_words(text: str) -> bool:
    """Whether it says of itself that it is a registration number: `EPA Reg. No. 99999-12`."""
    return any(part in _WORDS for part in _PART.findall(text.casefold())[:1])


def is_epa_number(text: str | None) -> bool:
    """Whether it has the form of a federal registration number: company, product, and a distributor's."""
    return bool(_EPA.fullmatch(registration_key(text) or ""))
