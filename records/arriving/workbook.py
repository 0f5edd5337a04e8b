"""A workbook (XLSX): its sheets, and each sheet's rows. Nothing of it is run, and no macro is let in."""

import re
from collections.abc import Iterator
from functools import cached_property
from itertools import islice
from typing import Any
from xml.etree.ElementTree import ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import fromstring

from records.arriving.exact import column_of, letters
from records.arriving.shared_strings import SharedStrings
from records.arriving.sheet_xml import SheetRows
from records.arriving.zipped import CHUNK, Parts
from records.imports.faults import FileFault, refused

MOST_SETTINGS = 4_000_000
MOST_TEXT = 60_000_000
MOST_SHEETS = 100
MOST_MERGES = 5_000
GLANCED_AT = 1_000_000
"""Bytes of a sheet that somebody waits for, to see its first rows."""
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_MERGED = re.compile(rb'mergeCell\s+ref="([A-Z]{1,3})([0-9]{1,7}):([A-Z]{1,3})([0-9]{1,7})"')
_DATES = {*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)}
"""Formats of days and times that a workbook need not define (ECMA-376 part 1, 18.8.30; from memory)."""
_PERCENTS = {9, 10}
_QUOTED = re.compile(r'"[^"]*"|\\.|\[[^\]]*\]|_.|\*.')

Row = tuple[int, tuple[str, ...]]


class Workbook:
    """Raises FileError for what can't be read."""

    def __init__(self, data: bytes) -> None:
        self.parts = Parts(data)
        if any("vbaproject" in name.casefold() for name in self.parts.sizes):
            raise refused("macros")
        book = self._tree("xl/workbook.xml")
        if book is None:
            raise refused("not_workbook")
        places = {each.get("Id"): each.get("Target", "") for each in self._all("xl/_rels/workbook.xml.rels")}
        found = [each for each in book.iter() if _named(each, "sheet")][:MOST_SHEETS]
        self._places = {each.get("name", ""): _path(places.get(each.get(_RELATION), "")) for each in found}
        there = [place for place in self._places.values() if place in self.parts.sizes]
        if len(set(there)) < len(there):
            raise refused("not_workbook")
        self.from_1904 = any(
            _named(each, "workbookPr") and each.get("date1904") in ("1", "true") for each in book.iter()
        )

    @property
    def sheets(self) -> list[str]:
        return [name for name, place in self._places.items() if place in self.parts.sizes]

    def rows(self, sheet: str, most_columns: int, whole: bool = True) -> Iterator[Row]:
        """The rows that hold anything. What is merged over rows of one column stands in each of them. Without
        `whole` those that stand in the sheet's first part."""
        place = self._places[sheet]
        downwards = self._merged_downwards(place)
        held: dict[int, tuple[str, int]] = {}
        chunks = self.parts.chunks(place)
        some = chunks if whole else islice(chunks, GLANCED_AT // CHUNK)
        reader = SheetRows(self.strings, self.kinds, self.from_1904, most_columns)
        for number, cells in reader.read(some, whole):
            if downwards or held:
                cells = _filled(number, cells, downwards, held)
            yield number, cells

    def merged_across(self, sheet: str, header_row: int) -> list[FileFault]:
        """Cells below the header that are merged over columns: whose value it is, nobody can tell."""
        return [
            FileFault("merged", {"cells": f"{letters(left)}{top}:{letters(right)}{bottom}"}, top)
            for left, top, right, bottom in self._merged(self._places[sheet])
            if top > header_row and left != right
        ]

    @cached_property
    def strings(self) -> list[str]:
        name = "xl/sharedStrings.xml"
        if name not in self.parts.sizes:
            return []
        return SharedStrings(self.parts.chunks(name), MOST_TEXT).found

    @cached_property
    def kinds(self) -> dict[int, str]:
        """By style of a cell: whether its number is a date or a share."""
        own: dict[int, str] = {}
        styles: dict[int, str] = {}
        for each in self._all("xl/styles.xml"):
            if _named(each, "numFmt"):
                own[_format_of(each)] = _kind_of_format(each.get("formatCode", ""))
            elif _named(each, "cellXfs"):
                formats = [_format_of(one) for one in each]
                styles = {place: own.get(key) or _built_in(key) for place, key in enumerate(formats)}
        return {place: kind for place, kind in styles.items() if kind}

    def _merged_downwards(self, place: str) -> dict[tuple[int, int], int]:
        return {
            (top, left): bottom
            for left, top, right, bottom in self._merged(place)
            if left == right and top < bottom
        }

    def _merged(self, place: str) -> list[tuple[int, int, int, int]]:
        found: list[tuple[int, int, int, int]] = []
        rest = b""
        for chunk in self.parts.chunks(place):
            text = rest + chunk
            end = 0
            for each in _MERGED.finditer(text):
                left, top, right, bottom = each.groups()
                found.append((column_of(left.decode()), int(top), column_of(right.decode()), int(bottom)))
                end = each.end()
            if len(found) > MOST_MERGES:
                raise refused("too_many_merges", most=str(MOST_MERGES))
            rest = text[max(end, len(text) - 100) :]
        return found

    def _all(self, name: str) -> list[Any]:
        tree = self._tree(name)
        return [] if tree is None else list(tree.iter())

    def _tree(self, name: str) -> Any:
        data = self.parts.whole(name, MOST_SETTINGS)
        try:
            return fromstring(data, forbid_dtd=True) if data else None
        except (ParseError, DefusedXmlException, ValueError) as error:
            raise refused("not_workbook") from error


def _filled(
    number: int, cells: tuple[str, ...], downwards: dict[tuple[int, int], int], held: dict[int, tuple[str, int]]
) -> tuple[str, ...]:
    filled = list(cells)
    for place, cell in enumerate(cells):
        if (bottom := downwards.get((number, place))) and cell:
            held[place] = (cell, bottom)
    for place, (text, bottom) in list(held.items()):
        if number > bottom:
            del held[place]
            continue
        filled += [""] * (place + 1 - len(filled))
        filled[place] = filled[place] or text
    return tuple(filled)


def _named(element: Any, name: str) -> bool:
    return isinstance(element.tag, str) and element.tag.rpartition("}")[2] == name


def _format_of(element: Any) -> int:
    key = element.get("numFmtId", "0")
    if not re.fullmatch(r"[0-9]{1,9}", key):
        raise refused("not_workbook")
    return int(key)


def _path(target: str) -> str:
    return target.removeprefix("/") if target.startswith("/") else f"xl/{target}"


def _kind_of_format(code: str) -> str:
    bare = _QUOTED.sub("", code.partition(";")[0].casefold())
    if "%" in bare:
        return "percent"
    return "date" if re.search(r"[dmyhs]", bare) and "general" not in bare else "number"


def _built_in(key: int) -> str:
    return "date" if key in _DATES else "percent" if key in _PERCENTS else ""
