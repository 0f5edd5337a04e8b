"""The kinds of member: words, text, numbers and flags; `measured` has quantities, `time_kinds` times."""

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

from records.document.fault_wordings import WORDINGS
from records.document.kind import JsonSchema, Kind, MisreadError, shown, text_of
from records.document.measured import Measured
from records.document.time_kinds import Day, Time, Zone
from records.document.words import WORD_LISTS

__all__ = [
    "Day", "Decimals", "Exactly", "Flag", "Formed", "Measured", "Text", "Time", "Whole", "Word", "Zone"
]  # fmt: skip


@dataclass(frozen=True)
class Word(Kind):
    """A word of a closed list (`words.WORD_LISTS`)."""

    word_list: str
    name: ClassVar[str] = "word"

    def read(self, value: object) -> str:
        word = text_of(value)
        if word not in WORD_LISTS[self.word_list]:
            allowed = ", ".join(WORD_LISTS[self.word_list])
            raise MisreadError("document/unknown_word", {"allowed": allowed, "got": shown(word)})
        return word

    def json_schema(self) -> JsonSchema:
        return {"enum": list(WORD_LISTS[self.word_list])}


_CONTROL_PATTERN = r"[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]"
_CONTROL = re.compile(_CONTROL_PATTERN)


@dataclass(frozen=True)
class Text(Kind):
    """Open text: not blank, no control characters but tab and line ends, at most `most` characters."""

    most: int = 2000
    name: ClassVar[str] = "text"

    def read(self, value: object) -> str:
        text = text_of(value)
        if len(text) > self.most:
            raise MisreadError("document/text_too_long", {"most": str(self.most), "count": str(len(text))})
        if not text.strip():
            raise MisreadError("document/blank_text", {})
        if found := _CONTROL.search(text):
            raise MisreadError("document/control_character", {"got": f"U+{ord(found[0]):04X}"})
        return text

    def json_schema(self) -> JsonSchema:
        without_control = {"not": {"pattern": _CONTROL_PATTERN}}
        return {"type": "string", "maxLength": self.most, "pattern": "\\S", **without_control}


@dataclass(frozen=True)
class Formed(Kind):
    """Text of a fixed form; `form` names it in the wordings (`form/uuid`)."""

    form: str
    pattern: str
    example: str
    name: ClassVar[str] = "text"

    def read(self, value: object) -> str:
        text = text_of(value)
        if not re.fullmatch(self.pattern, text):
            what = WORDINGS[f"form/{self.form}"]
            raise MisreadError(
                "document/not_of_form", {"what": what, "example": self.example, "got": shown(text)}
            )
        return text

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "pattern": f"^({self.pattern})$"}


@dataclass(frozen=True)
class Decimals(Kind):
    """A number written as text, 0 or more; `least` and `most` where it is bounded."""

    least: str | None = None
    most: str | None = None
    name: ClassVar[str] = "number"

    def read(self, value: object) -> str:
        text = text_of(value)
        pattern = self.json_schema()["pattern"].removesuffix("$")
        if not re.fullmatch(pattern, text):
            if two := re.fullmatch(r"([0-9.]+)\s*/\s*([0-9.]+)", text):
                raise MisreadError("document/two_numbers", {"first": two[1], "second": two[2]})
            what = WORDINGS["form/number"]
            raise MisreadError("document/not_of_form", {"what": what, "example": '"2.5"', "got": shown(text)})
        if self.least and self.most and not Decimal(self.least) <= Decimal(text) <= Decimal(self.most):
            raise MisreadError("document/out_of_range", {"least": self.least, "most": self.most, "got": text})
        return text

    def parse(self, text: str) -> object:
        return text.strip().replace(",", ".")

    def json_schema(self) -> JsonSchema:
        sign = "-?" if self.least else ""
        return {"type": "string", "pattern": f"^{sign}(0|[1-9][0-9]{{0,11}})(\\.[0-9]{{1,9}})?$"}


@dataclass(frozen=True)
class Flag(Kind):
    """True or false."""

    name: ClassVar[str] = "flag"

    def read(self, value: object) -> bool:
        if not isinstance(value, bool):
            raise MisreadError("document/not_a_flag", {"got": shown(value)})
        return value

    def parse(self, text: str) -> object:
        return {"true": True, "false": False}.get(text.strip().lower(), text)

    def json_schema(self) -> JsonSchema:
        return {"type": "boolean"}


@dataclass(frozen=True)
class Whole(Kind):
    """A whole number that counts (a version, bytes): a JSON number, 0 to 2**53 - 1."""

    name: ClassVar[str] = "whole"

    def read(self, value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < 2**53:
            raise MisreadError("document/not_a_whole_number", {"got": shown(value)})
        return value

    def parse(self, text: str) -> object:
        text = text.strip()
        return int(text) if re.fullmatch(r"[0-9]{1,15}", text) else text

    def json_schema(self) -> JsonSchema:
        return {"type": "integer", "minimum": 0, "maximum": 2**53 - 1}


@dataclass(frozen=True)
class Exactly(Kind):
    """This very text."""

    text: str
    name: ClassVar[str] = "fixed"

    def read(self, value: object) -> str:
        if value != self.text:
            raise MisreadError("document/not_this_text", {"expected": shown(self.text), "got": shown(value)})
        return self.text

    def json_schema(self) -> JsonSchema:
        return {"const": self.text}
