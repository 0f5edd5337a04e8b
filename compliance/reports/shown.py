"""The tables of a report as a person reads them, on a page, on paper and in CSV alike. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from compliance.reports.content import OWN
from compliance.reports.sums import AREA, ASKED, COUNTY, INGREDIENT, PRODUCT, SITE, written
from records.document.words import WORD_LISTS
from shared.quantities import UNITS
from shared.wording import Catalogue, Wording

Json = dict[str, Any]
NOT_STATED = "–"

TITLES: Catalogue = {
    ASKED: Wording("What the report states", "Lo que dice el informe"),
    PRODUCT: Wording("By product", "Por producto"),
    INGREDIENT: Wording("By active ingredient", "Por ingrediente activo"),
    SITE: Wording("By kind of site", "Por tipo de sitio"),
    COUNTY: Wording("By county", "Por condado"),
    AREA: Wording("Treated area", "Superficie tratada"),
}
COLUMNS: Catalogue = {
    "registration": Wording("Registration number", "Número de registro"),
    "product": Wording("Product", "Producto"),
    "use": Wording("Site", "Sitio"),
    "surfaces": Wording("Surfaces", "Superficies"),
    "surface": Wording("Surface", "Superficie"),
    "county": Wording("County", "Condado"),
    "day": Wording("Day", "Día"),
    "address": Wording("Address", "Dirección"),
    "place": Wording("Name of the site", "Nombre del sitio"),
    "started": Wording("Day and time", "Día y hora"),
    "ingredient": Wording("Active ingredient", "Ingrediente activo"),
    "amount": Wording("Amount", "Cantidad"),
    "unit": Wording("Unit", "Unidad"),
    "applications": Wording("Applications", "Aplicaciones"),
    "exact": Wording("Amount, exact", "Cantidad exacta"),
    "records": Wording("Records", "Registros"),
}
_WORDS = {"use": "site_use", "surfaces": "surface_kind", "surface": "surface_kind"}


@dataclass(frozen=True)
class ShownLine:
    """One line; `number` is its place in the table. `amount` is empty where it can't be told."""

    number: int
    cells: tuple[str, ...]
    amount: str
    unit: str
    applications: int
    columns: tuple[str, ...]

    @property
    def named(self) -> list[tuple[str, str]]:
        """Each cell with the name of its column."""
        return list(zip(self.columns, self.cells, strict=True))

    @property
    def name(self) -> str:
        return ", ".join(self.cells)


@dataclass(frozen=True)
class ShownTable:
    name: str
    title: str
    columns: tuple[str, ...]
    lines: tuple[ShownLine, ...]


def shown_tables(content: Json, language: str) -> list[ShownTable]:
    return [shown_table(content, table, language) for table in content["tables"]]


def shown_table(content: Json, table: Json, language: str) -> ShownTable:
    """One table. Nobody asked the firm for its own: that one is called by what its lines stand for."""
    name = PRODUCT if table["name"] == ASKED and content["rule"] == OWN else table["name"]
    return ShownTable(
        table["name"],
        TITLES[name].say(language),
        tuple(COLUMNS[column].say(language) for column in table["columns"]),
        tuple(_line(number, table["columns"], line, language) for number, line in enumerate(table["lines"])),
    )


@dataclass(frozen=True)
class ShownPart:
    """What one record gives to a figure; `amount` is empty where it can't be told."""

    record: Json
    amount: str
    unit: str
    exact: str


def parts_said(content: Json, line: Json, language: str) -> list[ShownPart]:
    """The records that a line is the sum of, each with what it gives."""
    return [_part(content["records"][source], exact, line["unit"], language) for source, exact in line["parts"]]


def csv_rows(content: Json, table: Json, language: str) -> tuple[list[str], Iterator[list[str]]]:
    """The names of a table's columns and its rows, each with its exact amount and the records behind it."""
    more = ("amount", "unit", "exact", "applications", "records")
    names = [COLUMNS[column].say(language) for column in (*table["columns"], *more)]
    return names, (_row(content, line) for line in table["lines"])


def _line(number: int, columns: list[str], line: Json, language: str) -> ShownLine:
    cells = zip(columns, line["cells"], strict=True)
    unit, amount = line["unit"], line["amount"]
    return ShownLine(
        number,
        tuple(_cell(column, value, language) for column, value in cells),
        amount or "",
        UNITS[unit].label(language, one=amount == "1") if unit else "",
        line["applications"],
        tuple(COLUMNS[column].say(language) for column in columns),
    )


def _part(record: Json, exact: str | None, unit: str, language: str) -> ShownPart:
    amount = written(Fraction(exact), unit) if exact else ""
    return ShownPart(
        record, amount, UNITS[unit].label(language, one=amount == "1") if unit else "", exact or ""
    )


def _cell(column: str, value: str, language: str) -> str:
    if not value:
        return NOT_STATED
    if column in _WORDS:
        words = WORD_LISTS[_WORDS[column]]
        return ", ".join(words[each].say(language) if each in words else each for each in value.split(","))
    return value[:16].replace("T", " ") if column == "started" else value


def _row(content: Json, line: Json) -> list[str]:
    numbers = [content["records"][source]["number"] for source, _exact in line["parts"]]
    return [
        *line["cells"],
        line["amount"] or "",
        line["unit"],
        line["exact"] or "",
        str(line["applications"]),
        " ".join(dict.fromkeys(numbers)),
    ]
