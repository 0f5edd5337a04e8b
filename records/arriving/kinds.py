"""The kinds of spreadsheets that can be brought in, and which kind and row a sheet's header is, by guess."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from records.arriving.members import ADDRESS, CUSTOMER, LICENCES, OF_SITES, PRODUCTS, REACHED, SITE, Member
from records.arriving.treatment_members import TREATMENTS
from records.imports.columns import folded_header
from records.imports.table import Row
from shared.quantities.spellings import unit_named
from shared.quantities.units import UNITS

KINDS: dict[str, tuple[Member, ...]] = {
    "customers": (CUSTOMER, *ADDRESS, *REACHED),
    "sites": (CUSTOMER, *SITE, *OF_SITES, *REACHED),
    "products": PRODUCTS,
    "licences": LICENCES,
    "treatments": TREATMENTS,
}
_BY_NAME = {
    kind: {name: member.name for member in reversed(members) for name in member.names.split("|")}
    for kind, members in KINDS.items()
}
_MEMBERS = {kind: {member.name: member for member in members} for kind, members in KINDS.items()}
_IN_BRACKETS = re.compile(r"[(\[]([^)\]]*)[)\]]")
_HEADER_WITHIN = 20


@dataclass(frozen=True)
class Header:
    """One column's header taken apart: the name, and the unit that stands with it, if one does."""

    name: str
    unit: str = ""


def member_of(kind: str, name: str) -> Member:
    return _MEMBERS[kind][name]


def read_header(cell: str) -> Header:
    """`Wind (mph)`, `Wind, mph` and `Wind mph` are all the wind in miles an hour."""
    if bracketed := _IN_BRACKETS.search(cell):
        unit = unit_named(bracketed[1].strip()) or ""
        return Header(folded_header(_IN_BRACKETS.sub(" ", cell)) if unit else folded_header(cell), unit)
    if len(cell) > 1 and (alone := unit_named(cell.strip())):
        return Header(folded_header(cell), alone)
    words = cell.replace(",", " ").replace("_", " ").split()
    for count in (2, 1):
        tail = " ".join(words[-count:])
        if len(words) > count and len(tail) > 1 and (behind := unit_named(tail)):
            return Header(folded_header(" ".join(words[:-count])), behind)
    return Header(folded_header(cell))


def guessed_columns(kind: str, cells: Sequence[str]) -> list[str]:
    """The member that each column is taken for, `""` where none is; the first of two wins."""
    found: list[str] = []
    for cell in cells:
        header = read_header(cell)
        names = _BY_NAME[kind]
        name = names.get(folded_header(cell)) or names.get(header.name, "")
        taken = name in found and not member_of(kind, name).several if name else False
        found.append("" if taken else name)
    return found


def guessed_units(kind: str, cells: Sequence[str], columns: Sequence[str]) -> dict[str, str]:
    """By member: the unit that its header names, where it is one of the member's."""
    units: dict[str, str] = {}
    for cell, name in zip(cells, columns, strict=True):
        if (
            name
            and (unit := read_header(cell).unit)
            and UNITS[unit].dimension in member_of(kind, name).dimensions
        ):
            units[name] = unit
    return units


def guessed_header(rows: Sequence[Row], kinds: Sequence[str] = tuple(KINDS)) -> tuple[str, int]:
    """The kind, and the number of the row that names the most of its members; what it needs counts double."""
    best = ("treatments", rows[0].number if rows else 1)
    most = 0
    for row in rows[:_HEADER_WITHIN]:
        for kind in kinds:
            named = [member_of(kind, name) for name in guessed_columns(kind, row.cells) if name]
            worth = len(named) + sum(member.needed for member in named)
            if worth > most:
                best, most = (kind, row.number), worth
    return best
