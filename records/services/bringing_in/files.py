"""Keep a spreadsheet, and what is said of it: kind, sheet, header, columns, and what it can't tell itself."""

from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from records.arriving.kinds import KINDS, guessed_columns, guessed_header, guessed_units
from records.arriving.reading import Asked
from records.arriving.sheets import Spreadsheet
from records.imports.table import Row
from records.models import ArrivalFile, Firm, User
from records.permissions import demand
from records.services.audit import Kind, note

FIRST_ROWS = 30
LONGEST_SHOWN = 60
ANSWERS = {"date_order": ("mdy", "dmy"), "decimal": ("point", "comma"), "ounces": ("fl_oz", "oz")}
"""To what a file may ask of itself as a whole."""
PERMISSION = "records.bring_in"
Json = dict[str, Any]


class NotNowError(Exception):
    """It is at another point than the page that asked was: nothing was done."""


@dataclass(frozen=True)
class Shape:
    """What was said of a file, as the readers take it."""

    kind: str
    sheet: str
    header_row: int
    columns: list[str]
    asked: Asked


def keep_file(data: bytes, name: str, by: User, firm: Firm) -> ArrivalFile:
    """Keep it with a first guess at what it is. Raises FileError for what can't be read, PermissionDenied."""
    demand(by, PERMISSION, firm)
    book = Spreadsheet(data)
    shown = {sheet: book.first_rows(sheet, FIRST_ROWS) for sheet in book.sheets[:20]}
    sheet = max(shown, key=lambda each: len(shown[each]) > 1 and _worth(shown[each]))
    file = ArrivalFile(firm=firm, name=_printable(name)[-200:], by=by, content=data, size=len(data))
    file.sha256 = sha256(data).hexdigest()
    file.preview = {"sheets": book.sheets, "rows": _json(shown[sheet])}
    kind, header_row = guessed_header(shown[sheet])
    file.asked = {"sheet": sheet, "kind": kind, "header_row": header_row}
    _guess_columns(file)
    file.save()
    note(Kind.CREATED, file, firm=firm, by=by)
    return file


def say(file: ArrivalFile, said: Json) -> None:
    """Take what a person said of it; of another kind, sheet or header the columns are guessed anew.

    Raises NotNowError while it is under way or done, FileError where the sheet can't be read.
    """
    if not file.is_open:
        raise NotNowError
    before = {name: file.asked.get(name) for name in ("kind", "sheet", "header_row")}
    asked = before | {name: said[name] for name in before if name in said}
    if asked["kind"] not in KINDS or asked["sheet"] not in file.preview["sheets"]:
        raise NotNowError
    if asked["sheet"] != before["sheet"]:
        rows = Spreadsheet(bytes(file.content)).first_rows(asked["sheet"], FIRST_ROWS)
        file.preview["rows"] = _json(rows)
        if asked["kind"] == before["kind"]:
            asked["kind"], asked["header_row"] = guessed_header(rows)
    if asked != before:
        file.asked = asked
        _guess_columns(file)
    else:
        _take_answers(file, said)
    file.state, file.doubts, file.faults = ArrivalFile.State.SENT, [], []
    file.save()


def shape_of(file: ArrivalFile) -> Shape:
    said = file.asked
    answers = {name: said.get(name, "") for name in ANSWERS}
    asked = Asked(units=said.get("units", {}), **answers)
    return Shape(said["kind"], said["sheet"], said["header_row"], said["columns"], asked)


def header_of(file: ArrivalFile) -> list[str]:
    """The cells of the header row as they were shown."""
    return next((cells for number, cells in file.preview["rows"] if number == file.asked["header_row"]), [])


def _take_answers(file: ArrivalFile, said: Json) -> None:
    members = {member.name for member in KINDS[file.asked["kind"]]}
    if columns := said.get("columns"):
        wide = len(file.asked["columns"])
        chosen = [each if each in members else "" for each in columns]
        file.asked["columns"] = [*chosen, *[""] * wide][:wide]
    for name, answers in ANSWERS.items():
        if said.get(name) in answers:
            file.asked[name] = said[name]
    file.asked["units"] = file.asked.get("units", {}) | said.get("units", {})


def _guess_columns(file: ArrivalFile) -> None:
    header, kind = header_of(file), file.asked["kind"]
    columns = guessed_columns(kind, header)
    file.asked["columns"], file.asked["units"] = columns, guessed_units(kind, header, columns)


def _worth(rows: list[Row]) -> int:
    """How much of a header the sheet has."""
    kind, number = guessed_header(rows)
    return sum(bool(name) for row in rows if row.number == number for name in guessed_columns(kind, row.cells))


def _printable(name: str) -> str:
    return " ".join("".join(letter if letter.isprintable() else " " for letter in name).split())


def _json(rows: list[Row]) -> list[Any]:
    return [[row.number, [cell[:LONGEST_SHOWN] for cell in row.cells]] for row in rows]
