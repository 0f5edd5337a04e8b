"""Whether one version of a record is what a register is asked for, and which names each box asks. Pure.

The search itself asks the database of what holds now; this asks what held once.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from records.document.registration import is_epa_number, registration_key, starts_with_words
from records.register import terms
from records.register.terms import Term
from records.register.wanted import RegisterFilter
from shared.folded import sought

NAMES = {
    "county": [terms.COUNTY], "site": [terms.SITE], "customer": [terms.CUSTOMER], "product": [terms.PRODUCT],
    "registration": [terms.REGISTRATION], "ingredient": [terms.INGREDIENT], "licence": [terms.LICENCE],
    "applicator": [terms.APPLICATOR],
}  # fmt: skip
"""All words of one box must be in one name of these kinds."""
EXACT = {
    "place": [terms.PLACE], "incident": [terms.INCIDENT], "result": [terms.RESULT],
    "finding": [terms.NOT_MET, terms.CANT_TELL],
}  # fmt: skip
"""The whole of the box is a name of these kinds."""


def number_asked(member: str, typed: str) -> str | None:
    """The registration number that a box asks for, where it says nothing else; None where it asks for words.

    Words before the number tell it from a postcode or the number of a record.
    """
    if member == "registration" or (is_epa_number(typed) and (member == "product" or starts_with_words(typed))):
        return registration_key(typed)
    return None


def is_of_number(number: str, written: str) -> bool:
    """Whether it is this number however it was written, or one under it: a company's, or a distributor's of the
    same product, which adds a part (40 CFR 152.132, from memory). `99999-1` is no part of `99999-12`."""
    return f"{registration_key(written) or ''}-".startswith(f"{number}-")


@dataclass(frozen=True)
class Held:
    """What the register had of a record while a version of it held."""

    number: str
    day: date
    state: str
    outcome: str
    wind: Fraction | None
    terms: Collection[Term]


def fits(held: Held, wanted: RegisterFilter) -> bool:
    if wanted.words.strip() == held.number:
        wanted = replace(wanted, words="")
    return _columns_fit(held, wanted) and _names_fit(held, wanted)


def _columns_fit(held: Held, wanted: RegisterFilter) -> bool:
    days = (wanted.day_from or date.min) <= held.day <= (wanted.day_to or date.max)
    same = wanted.outcome in ("", held.outcome) and wanted.state in ("", held.state)
    return days and same and _wind_fits(held.wind, wanted)


def _wind_fits(wind: Fraction | None, wanted: RegisterFilter) -> bool:
    least, most = wanted.wind_least, wanted.wind_most
    if wind is None:
        return least is None and most is None
    return (least is None or least.base <= wind) and (most is None or wind <= most.base)


def _names_fit(held: Held, wanted: RegisterFilter) -> bool:
    for member, kinds in NAMES.items():
        if (typed := getattr(wanted, member)) and not _is_named(held, member, kinds, typed):
            return False
    for member, kinds in EXACT.items():
        if (typed := getattr(wanted, member)) and terms.compared(typed) not in _of(held, kinds):
            return False
    if number := number_asked("words", wanted.words):
        return _has_number(held, number)
    return all(_in_one(held, terms.IN_WORDS, [word]) for word in sought(wanted.words).split())


def _is_named(held: Held, member: str, kinds: Collection[str], typed: str) -> bool:
    if number := number_asked(member, typed):
        return _has_number(held, number)
    return _in_one(held, kinds, terms.compared(typed).split())


def _has_number(held: Held, number: str) -> bool:
    numbers = (term.written for term in held.terms if term.kind == terms.REGISTRATION)
    return any(is_of_number(number, written) for written in numbers)


def _in_one(held: Held, kinds: Collection[str], words: Collection[str]) -> bool:
    return any(all(word in name for word in words) for name in _of(held, kinds))


def _of(held: Held, kinds: Collection[str]) -> Iterable[str]:
    return [term.folded for term in held.terms if term.kind in kinds]
