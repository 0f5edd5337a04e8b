"""One cell as the value of its member; what the file can't tell is in `Asked`. Readers raise FileError."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from records.arriving.days import read_day, read_times
from records.arriving.exact import Exact
from records.arriving.members import Member
from records.arriving.trade_words import word_of
from records.arriving.wind import read_direction, read_wind
from records.document.words import WORD_LISTS
from records.imports.cells import read_cell
from records.imports.faults import refused
from shared.quantities import Quantity, QuantityError, parse, parse_number
from shared.us_places import state_code
from shared.wording import Wording

LONGEST_NOTE = 4_000
ERRORS = ("#REF!", "#N/A", "#VALUE!", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!", "####")
_GARBLED = re.compile("\ufffd|[ÃÂ][\u0080-\u00bf]|â€")
_NAMES = re.compile(r"\s*(?:[;/&+]|\band\b|\by\b)\s*")
_PLACE = re.compile(r"[a-z]{2}(-[a-z0-9]+)*")
_WORDS = re.compile(r"\s*(?:[,;/&+]|\band\b|\by\b)\s*")
_OUNCES = re.compile(r"(?i)\b(?:oz\.?|ounces?|onzas?)$")


@dataclass(frozen=True)
class Asked:
    """What was said of a file: in which order its days stand, what a comma parts, which ounces, which units."""

    date_order: str = ""
    decimal: str = ""
    ounces: str = ""
    units: Mapping[str, str] = field(default_factory=dict)
    country: str = "us"


def read_member(member: Member, text: str, asked: Asked) -> Any:
    """The value of a cell that is not empty."""
    if text.startswith("=") and not isinstance(text, Exact):
        raise refused("formula")
    if text in ERRORS:
        raise refused("error_cell")
    if _GARBLED.search(text):
        raise refused("garbled")
    return _READERS[member.reads](member, text, asked)


def number_of(text: str, asked: Asked) -> str:
    """The digits of a number, without what parts its thousands."""
    if isinstance(text, Exact):
        return str(text)
    bare = text.replace(" ", "")
    if asked.decimal == "point" and re.fullmatch(r"-?\d{1,3}(,\d{3})+(\.\d+)?", bare):
        bare = bare.replace(",", "")
    elif asked.decimal == "comma" and re.fullmatch(r"-?(\d{1,3}(\.\d{3})+|\d+)(,\d+)?", bare):
        bare = bare.replace(".", "").replace(",", ".")
    return bare


def in_two_ways(text: str) -> bool:
    """Whether the comma in it may part thousands or decimals."""
    return not isinstance(text, Exact) and bool(re.match(r"-?[1-9]\d{0,2},\d{3}(?!\d)(?!\.\d)", text))


def _quantity(member: Member, text: str, asked: Asked) -> Quantity:
    matched = re.match(r"([-+]?[0-9][0-9.,]*)(.*)", text)
    number, unit = (number_of(matched[1], asked), matched[2].strip()) if matched else (text, "")
    if matched and isinstance(text, Exact):
        number, unit = str(text), ""
    if number.startswith("-") and "temperature" not in member.dimensions:
        raise refused("negative")
    unit = unit or asked.units.get(member.name, "")
    if asked.ounces and is_ounces(unit):
        unit = asked.ounces
    try:
        return parse(f"{number} {unit}".strip(), member.dimensions)
    except QuantityError as error:
        raise refused("quantity", why=error) from error


def is_ounces(text: str) -> bool:
    """Whether it says ounces without saying of which kind."""
    return bool(_OUNCES.search(text)) and not re.search(r"(?i)\bfl|fluid|l[ií]quid", text)


def _percent(_member: Member, text: str, asked: Asked) -> str:
    bare = number_of(
        text.removesuffix("%").strip() if not isinstance(text, Exact) else text, asked
    ).removesuffix("%")
    try:
        digits = parse_number(bare)
    except QuantityError as error:
        raise refused("quantity", why=error) from error
    if not re.fullmatch(r"\d{1,3}(\.\d{1,9})?", digits) or float(digits) > 100:
        raise refused("number")
    return digits


def _word(member: Member, text: str, _asked: Asked) -> str:
    word = word_of(member.words, text)
    if word is None:
        raise refused("word", allowed=_allowed(member.words))
    return word


def _words(member: Member, text: str, asked: Asked) -> list[str]:
    return list(dict.fromkeys(_word(member, part, asked) for part in _WORDS.split(text) if part))


def _allowed(words: str) -> Wording:
    labels = WORD_LISTS[words].values()
    return Wording(*(", ".join(each.say(language) for each in labels) for language in ("en", "es")))


def _place(_member: Member, text: str, asked: Asked) -> str:
    if _PLACE.fullmatch(text) and "-" in text:
        return text
    if state := state_code(text):
        return f"us-{state}"
    raise refused("place")


def _names(_member: Member, text: str, _asked: Asked) -> list[str]:
    return list(dict.fromkeys(read_cell("name", name) for name in _NAMES.split(text) if name))


def _text(member: Member, text: str, _asked: Asked) -> Any:
    return read_cell(member.name if member.name in ("phone", "email", "region", "postcode") else "name", text)


def _notes(_member: Member, text: str, _asked: Asked) -> str:
    if len(text) > LONGEST_NOTE:
        raise refused("too_long", most=str(LONGEST_NOTE))
    if any(not letter.isprintable() for letter in text):
        raise refused("control")
    return text


def _of_people(name: str) -> Callable[[Member, str, Asked], Any]:
    def read(member: Member, text: str, _asked: Asked) -> Any:
        return read_cell(name or member.name, text)

    return read


_READERS: dict[str, Callable[[Member, str, Asked], Any]] = {
    "text": _text,
    "notes": _notes,
    "email": _of_people("email"),
    "country": _of_people("country"),
    "language": _of_people("language"),
    "yes_no": _of_people("dwelling"),
    "degrees": _of_people(""),
    "day": lambda _member, text, asked: read_day(text, asked.date_order),
    "time": lambda _member, text, _asked: read_times(text),
    "quantity": _quantity,
    "percent": _percent,
    "word": _word,
    "words": _words,
    "place": _place,
    "names": _names,
    "wind": lambda member, text, asked: read_wind(text, asked.units.get(member.name, "")),
    "direction": lambda _member, text, _asked: read_direction(text),
}
