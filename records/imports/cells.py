"""One cell of a list as the value that a row of ours holds. Each reader raises FileError."""

import re
from collections.abc import Callable
from typing import Any

from records.imports.faults import refused
from shared.quantities import QuantityError, parse

LONGEST = {"phone": 40, "region": 100, "postcode": 20, "email": 254, "number": 100}
_YES = {"yes", "y", "true", "1", "x", "si", "sí", "s", "verdadero"}
_NO = {"no", "n", "false", "0", "falso"}
_LANGUAGES = {"en": "en", "english": "en", "ingles": "en", "inglés": "en"}
_LANGUAGES |= {"es": "es", "spanish": "es", "espanol": "es", "español": "es"}
_STANDING = {"owner": "owner", "propietario": "owner", "propietaria": "owner", "dueño": "owner"}
STANDINGS = frozenset(("owner", "occupant", "propietario", "ocupante"))
"""The words that a person may mean as they stand; others are taken for one of them."""
_STANDING |= dict.fromkeys(("occupant", "tenant", "resident", "ocupante", "inquilino", "inquilina"), "occupant")
_CONTROL = re.compile(r"[\x00-\x1f\x7f\ud800-\udfff]")
"""And halves of a character, which JSON can write and nothing can keep."""
_PHONE = re.compile(r"[\d\s+().-]+((x|ext\.?)\s*\d+)?", re.IGNORECASE)
_EMAIL = re.compile(r"[^@\s,;<>]+@[^@\s,;<>]+\.[^@\s.,;<>]{2,}")


def read_cell(member: str, text: str) -> Any:
    """The value of a cell that is not empty."""
    return _READERS.get(member, _text)(text, member)


def _text(text: str, member: str) -> str:
    most = LONGEST.get(member, 200)
    if len(text) > most:
        raise refused("too_long", most=str(most))
    if _CONTROL.search(text):
        raise refused("control")
    return text


def _email(text: str, member: str) -> str:
    if not _EMAIL.fullmatch(_text(text, member)):
        raise refused("email")
    return text


def is_phone(text: str) -> bool:
    """Whether it can be a number to ring: digits, marks between them, perhaps an extension."""
    return bool(_PHONE.fullmatch(text.strip())) and 7 <= sum(each.isdigit() for each in text) <= 20


def _phone(text: str, member: str) -> str:
    if not is_phone(_text(text, member)):
        raise refused("phone")
    return text


def _country(text: str, _member: str) -> str:
    if not re.fullmatch("[A-Za-z]{2}", text):
        raise refused("country")
    return text.upper()


def _yes_no(text: str, _member: str) -> bool:
    word = text.casefold()
    if word not in _YES | _NO:
        raise refused("yes_no")
    return word in _YES


def _length(text: str, _member: str) -> str:
    try:
        length = parse(text, "length")
    except QuantityError as error:
        raise refused("length", why=error) from error
    return f"{length.value} {length.unit}"


def _degrees(text: str, member: str) -> str:
    most = 90 if member == "latitude" else 180
    if not re.fullmatch(r"-?\d{1,3}(\.\d{1,15})?", text) or abs(float(text)) > most:
        raise refused("degrees")
    sign, digits = ("-" if text.startswith("-") else ""), text.lstrip("-")
    whole, _, decimals = digits.partition(".")
    return f"{sign}{int(whole)}" + (f".{decimals[:9]}" if decimals else "")


def _whole(text: str, _member: str) -> int:
    if not re.fullmatch(r"\d{1,6}", text):
        raise refused("whole")
    return int(text)


def standing_word(text: str) -> str:
    """The word that it is taken for; '' for none."""
    return _STANDING.get(text.casefold(), "")


def _word(words: dict[str, str], fault: str) -> Callable[[str, str], str]:
    def read(text: str, _member: str) -> str:
        if text.casefold() not in words:
            raise refused(fault)
        return words[text.casefold()]

    return read


_READERS: dict[str, Callable[[str, str], Any]] = {
    "email": _email,
    "phone": _phone,
    "country": _country,
    "wishes_phone": _yes_no,
    "dwelling": _yes_no,
    "abutting": _yes_no,
    "distance": _length,
    "latitude": _degrees,
    "longitude": _degrees,
    "walk": _whole,
    "language": _word(_LANGUAGES, "language"),
    "standing": _word(_STANDING, "standing"),
}
