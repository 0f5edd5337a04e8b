"""Reads the parameters of a rule from plain data, in which every scalar is still text."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from fractions import Fraction
from typing import Any, TypeVar

from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Scalar
from compliance.rulebook.vocabulary import FactPath, Term, Vocabulary, read_path
from shared.quantities import Quantity, QuantityError, parse
from shared.wording import Wording

T = TypeVar("T")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_MONTH_DAY = re.compile(r"\d{2}-\d{2}")
_CLOCK = re.compile(r"\d{2}:\d{2}")
_UNPRINTABLE = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff]")
_COUNT = re.compile(r"\d{1,9}")
_NUMBER = re.compile(r"-?\d{1,12}(\.\d{1,9})?")


@dataclass(frozen=True)
class Setting:
    """What a rule is read against: the vocabulary, what the rule judges, the pack's questions and answers.

    `archived`: the pack was in use once, so that kinds which are retired now may stand in it.
    """

    vocabulary: Vocabulary
    judges: str
    questions: Mapping[str, tuple[str, ...]]
    archived: bool = False

    @property
    def roots(self) -> Mapping[str, Term]:
        return self.vocabulary.roots(self.judges)


class Params:
    """The keys and values at one place of a rule; what is read is ticked off, `done` refuses the rest."""

    def __init__(self, raw: object, setting: Setting) -> None:
        if not isinstance(raw, Mapping):
            raise RuleError("rule/expected_mapping", {})
        self.raw: Mapping[str, Any] = raw
        self.setting = setting
        self.read: list[str] = []

    def has(self, key: str) -> bool:
        """Whether the key is there (it counts as read either way)."""
        self.read.append(key)
        return key in self.raw

    def value(self, key: str, reader: Callable[[Any], T]) -> T:
        """The value of a key that must be there, through its reader."""
        if not self.has(key):
            raise RuleError("rule/missing_key", {"key": key})
        try:
            return reader(self.raw[key])
        except RuleError as error:
            raise error.within(key) from None

    def maybe(self, key: str, reader: Callable[[Any], T]) -> T | None:
        """The value of a key that may be left out."""
        return self.value(key, reader) if self.has(key) else None

    def which(self, *keys: str) -> str:
        """The one of these keys that is there. Raises RuleError if none or several are."""
        found = [key for key in keys if self.has(key)]
        if len(found) != 1:
            raise RuleError("rule/one_of_keys", {"keys": ", ".join(keys)})
        return found[0]

    def inner(self, raw: object, judges: Setting | None = None) -> "Params":
        """The parameters of a value that is itself keys and values."""
        return Params(raw, judges or self.setting)

    def path(self, raw: object, *, lists: bool = False, roots: Mapping[str, Term] | None = None) -> FactPath:
        """A fact path."""
        return read_path(as_text(raw), roots or self.setting.roots, lists=lists)

    def done(self) -> None:
        """Refuse any key that nothing has read. Raises RuleError."""
        for key in self.raw:
            if key not in self.read:
                allowed = ", ".join(sorted(set(self.read)))
                raise RuleError("rule/unknown_key", {"key": key, "allowed": allowed}, (key,))


def as_text(raw: object) -> str:
    """Text that is not empty."""
    if not isinstance(raw, str) or not raw.strip():
        raise RuleError("rule/expected_text", {})
    if _UNPRINTABLE.search(raw):
        raise RuleError("rule/unprintable", {})
    return str(raw)


def as_list(raw: object) -> list[Any]:
    """A list that is not empty."""
    if not isinstance(raw, list) or not raw:
        raise RuleError("rule/expected_list", {})
    return raw


def each(reader: Callable[[Any], T]) -> Callable[[Any], tuple[T, ...]]:
    """A reader for a list whose items are read by `reader`."""

    def read(raw: object) -> tuple[T, ...]:
        found = []
        for place, item in enumerate(as_list(raw)):
            try:
                found.append(reader(item))
            except RuleError as error:
                raise error.within(place) from None
        return tuple(found)

    return read


def one_of(words: Iterable[str]) -> Callable[[Any], str]:
    """A reader for a word of a closed list."""
    allowed = tuple(words)

    def read(raw: object) -> str:
        text = as_text(raw)
        if text not in allowed:
            raise RuleError("rule/unknown_word", {"got": text, "allowed": ", ".join(allowed)})
        return text

    return read


def quantity(*dimensions: str) -> Callable[[Any], Quantity]:
    """A reader for a quantity as typed, of one of the dimensions."""

    def read(raw: object) -> Quantity:
        try:
            return parse(as_text(raw), dimensions)
        except QuantityError as error:
            problem = Wording(error.say("en"), error.say("es"))
            raise RuleError("rule/quantity", {"problem": problem}) from None

    return read


def as_day(raw: object) -> date:
    """A day, as 2026-09-14."""
    return _formed(_DAY, date.fromisoformat, raw, "rule/not_a_day")


def as_time(raw: object) -> datetime:
    """A moment with an offset, as RFC 3339 writes it."""
    moment = _formed(re.compile(".*"), datetime.fromisoformat, raw, "rule/not_a_time")
    if moment.tzinfo is None:
        raise RuleError("rule/not_a_time", {"got": as_text(raw)})
    return moment


def as_month_day(raw: object) -> tuple[int, int]:
    """A day of the year, as 03-01."""
    day = _formed(_MONTH_DAY, lambda text: date.fromisoformat(f"2024-{text}"), raw, "rule/not_a_month_day")
    return day.month, day.day


def as_clock_time(raw: object) -> time:
    """A time of day, as 07:00."""
    return _formed(_CLOCK, time.fromisoformat, raw, "rule/not_a_clock_time")


def as_count(raw: object) -> int:
    """A whole number of at most nine digits."""
    return _formed(_COUNT, int, raw, "rule/not_a_count")


def as_number(raw: object) -> Fraction:
    """A number in digits, with a decimal point where needed."""
    return _formed(_NUMBER, Fraction, raw, "rule/not_a_number")


def as_yes_no(raw: object) -> bool:
    """`yes` or `no`."""
    return one_of(("yes", "no"))(raw) == "yes"


def as_wording(raw: object) -> Wording:
    """Text in English and Spanish. Its braces stand for themselves."""
    if not isinstance(raw, Mapping):
        raise RuleError("rule/expected_mapping", {})
    if set(raw) != {"en", "es"}:
        raise _languages(raw)
    return Wording(as_text(raw["en"]), as_text(raw["es"]))


def scalar(term: Term) -> Callable[[Any], Scalar]:
    """The reader for a value of this type of fact."""
    readers: dict[str, Callable[[Any], Scalar]] = {
        "text": as_text,
        "word": one_of(term.words),
        "quantity": quantity(*term.dimensions),
        "time": as_time,
        "day": as_day,
        "yes_no": as_yes_no,
        "number": as_number,
    }
    return readers[term.sort]


def _languages(raw: Mapping[str, object]) -> RuleError:
    for key in raw:
        if key not in ("en", "es"):
            return RuleError("rule/unknown_key", {"key": key, "allowed": "en, es"}, (key,))
    return RuleError("rule/missing_key", {"key": "en" if "en" not in raw else "es"})


def _formed(form: re.Pattern[str], reader: Callable[[str], T], raw: object, wording_id: str) -> T:
    text = as_text(raw)
    try:
        if form.fullmatch(text):
            return reader(text)
    except ValueError:
        pass
    raise RuleError(wording_id, {"got": text})
