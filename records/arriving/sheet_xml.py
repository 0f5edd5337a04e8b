"""A worksheet's XML as rows of text, as it streams by: one row in memory, one pass, nothing looked up outside.

Numbers, dates and yes or no are `Exact`: a workbook says what they are, and nobody has to be asked.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from decimal import Decimal, InvalidOperation

from records.arriving.exact import LONGEST_CELL, Exact, column_of
from records.arriving.xml_stream import Stream, local
from records.imports.faults import refused

LAST_ROW = 1_048_576
"""Of a worksheet (ECMA-376; from memory)."""
MOST_TAGS = 40_000_000
"""As many rows and columns as are read, each cell with formula and value, have 30 million."""
MOST_SAID = 200_000_000
"""Characters in all cells: one shared text may stand in each."""
_REFERENCE = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_SERIAL = re.compile(r"[0-9]{1,7}(\.[0-9]+)?")
_DAYS_FROM = {False: datetime(1899, 12, 30), True: datetime(1904, 1, 1)}  # noqa: DTZ001 - spreadsheets know no zones
_LATEST = 2_958_465  # 9999-12-31


class SheetRows:
    """The rows of one worksheet: (number, cells). `kinds` tells by style what a number is: date, percent."""

    def __init__(
        self, strings: Sequence[str], kinds: Mapping[int, str], from_1904: bool, most_columns: int
    ) -> None:
        self.strings, self.kinds, self.most_columns = strings, kinds, most_columns
        self.epoch = _DAYS_FROM[from_1904]
        self._done: list[tuple[int, tuple[str, ...]]] = []
        self._row, self._column = 0, -1
        self._cells: list[str] = []
        self._text: list[str] | None = None
        self._length = 0
        self._cell: dict[str, str] = {}
        self._value = ""
        self._formula: str | None = None
        self._tags = self._said_in_all = 0

    def read(self, chunks: Iterable[bytes], whole: bool = True) -> Iterator[tuple[int, tuple[str, ...]]]:
        """Without `whole` the chunks may end anywhere."""
        stream = Stream(self._start, self._end, self._characters)
        for chunk in chunks:
            stream.feed(chunk)
            yield from self._done
            self._done.clear()
        if whole:
            stream.feed(b"", last=True)
            yield from self._done

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        self._tags += 1
        if self._tags > MOST_TAGS:
            raise refused("zip_bomb")
        match local(name):
            case "row":
                number = attributes.get("r", "")
                self._row = int(number) if number.isdigit() else self._row + 1
                if self._row > LAST_ROW:
                    raise refused("not_workbook")
                self._column, self._cells = -1, []
            case "c":
                self._place(attributes.get("r", ""))
                self._cell, self._value, self._formula = attributes, "", None
            case "v" | "f" | "t":
                self._text, self._length = [], 0

    def _place(self, reference: str) -> None:
        matched = _REFERENCE.fullmatch(reference)
        self._column = column_of(matched[1]) if matched else self._column + 1
        if self._column >= self.most_columns:
            raise refused("too_many_columns", self._row, most=str(self.most_columns))

    def _characters(self, text: str) -> None:
        if self._text is not None and self._length <= LONGEST_CELL:
            self._text.append(text)
            self._length += len(text)

    def _end(self, name: str) -> None:
        match local(name):
            case "v":
                self._value = self._taken()
            case "t":
                self._value += self._taken()
            case "f":
                self._formula = self._taken()
            case "c":
                if text := self._said():
                    self._cells += [""] * (self._column + 1 - len(self._cells))
                    self._cells[self._column] = text
                    self._said_in_all += len(text)
            case "row":
                if self._said_in_all > MOST_SAID:
                    raise refused("zip_bomb")
                if self._cells:
                    self._done.append((self._row, tuple(self._cells)))

    def _taken(self) -> str:
        text, self._text = "".join(self._text or ()), None
        return text

    def _said(self) -> str:
        """The cell's text; of a formula its stored result, else the formula, which is told as a fault."""
        value, kind = self._value, self._cell.get("t", "n")
        if not value:
            return f"={self._formula}" if self._formula is not None else ""
        if kind == "s":
            return self._shared(value)
        if kind == "b":
            return Exact("true" if value == "1" else "false")
        if kind == "d":
            return Exact(value)
        if kind == "n":
            style = self._cell.get("s", "0")
            return self._number(value, self.kinds.get(int(style) if style.isdigit() else 0, ""))
        return " ".join(value.split())

    def _shared(self, place: str) -> str:
        if not place.isdigit() or int(place) >= len(self.strings):
            raise refused("not_workbook", self._row)
        return self.strings[int(place)]

    def _number(self, digits: str, kind: str) -> str:
        if kind == "date" and _SERIAL.fullmatch(digits) and float(digits) <= _LATEST:
            return self._moment(float(digits))
        try:
            number = Decimal(repr(float(digits)))
        except (InvalidOperation, ValueError):
            return digits
        if not number.is_finite() or abs(number.adjusted()) > 20:
            return digits
        text = f"{number * 100 if kind == 'percent' else number:f}"
        if "." in text:
            text = text.rstrip("0").rstrip(".")
        return Exact(f"{text}%" if kind == "percent" else text)

    def _moment(self, serial: float) -> str:
        moment = self.epoch + timedelta(seconds=round(serial * 86_400))
        if serial < 1:
            return Exact(f"{moment:%H:%M:%S}")
        whole_day = serial == int(serial)
        return Exact(moment.date().isoformat() if whole_day else moment.isoformat(timespec="seconds"))
