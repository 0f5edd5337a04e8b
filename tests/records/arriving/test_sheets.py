"""Files are read row by row within bounds, whatever is in them."""

import io
import zipfile
from datetime import date, datetime, time

import pytest

from records.arriving.exact import Exact
from records.arriving.sheets import MOST_COLUMNS, MOST_MEGABYTES, Spreadsheet
from records.imports.faults import FileError
from tests.records.arriving.books import book, cells_of, part_of, rows_of, with_part


def refusal(data: bytes) -> str:
    with pytest.raises(FileError) as caught:
        for sheet in (file := Spreadsheet(data)).sheets:
            list(file.rows(sheet))
    return caught.value.faults[0].wording_id


def test_a_workbook_gives_its_values_as_text_with_its_own_row_numbers():
    data = book(
        ["Date", "Start", "Amount", "Done", "When"],
        [],
        [date(2024, 4, 3), time(9, 15), 1.1, True, datetime.combine(date(2024, 4, 3), time(9, 15))],
    )
    assert [(row.number, row.cells) for row in rows_of(data)] == [
        (1, ("Date", "Start", "Amount", "Done", "When")),
        (3, ("2024-04-03", "09:15:00", "1.1", "true", "2024-04-03T09:15:00")),
    ]


def test_what_a_workbook_vouches_for_is_told_from_text_that_looks_like_it():
    (_header, row) = rows_of(book(["Date"], [date(2024, 4, 3), "03/04/2024"]))
    assert [isinstance(cell, Exact) for cell in row.cells] == [True, False]


def test_a_share_is_read_as_it_is_shown():
    data = book(["Humidity"], [0.7])
    sheet = part_of(data, "xl/worksheets/sheet1.xml").replace(b'<c r="A2"', b'<c r="A2" s="1"')
    styles = part_of(data, "xl/styles.xml")
    xf = b'<xf numFmtId="9" fontId="0" fillId="0" borderId="0" xfId="0"/></cellXfs>'
    data = with_part(
        with_part(data, "xl/worksheets/sheet1.xml", sheet), "xl/styles.xml", styles.replace(b"</cellXfs>", xf)
    )
    assert cells_of(data)[1] == ("70%",)


def test_what_is_merged_downwards_stands_in_each_of_its_rows():
    data = book(["Customer", "Day"], ["A. Marlowe", 1], [None, 2], [None, 3], merged=["A2:A3"])
    assert cells_of(data)[1:] == [("A. Marlowe", "1"), ("A. Marlowe", "2"), ("", "3")]


def test_what_is_merged_across_is_told_with_its_cells():
    data = book(["Old log", None], ["Customer", "Day"], ["A. Marlowe", None], merged=["A1:B1", "A3:B3"])
    (fault,) = Spreadsheet(data).merged_across("Log", 2)
    assert (fault.row, fault.blanks) == (3, {"cells": "A3:B3"})


def test_a_formula_gives_its_stored_result_and_without_one_itself():
    data = book(["Sum"], ["=1+1"])
    assert cells_of(data)[1] == ("=1+1",)
    sheet = part_of(data, "xl/worksheets/sheet1.xml")
    known = sheet.replace(b"<v></v>", b"<v>2</v>").replace(b"<v />", b"<v>2</v>").replace(b"<v/>", b"<v>2</v>")
    assert cells_of(with_part(data, "xl/worksheets/sheet1.xml", known))[1] == ("2",)


def test_all_sheets_are_named_and_read():
    data = book(["A"], ["1"], Products=[["Product"], ["Sample Moss Wash"]])
    assert Spreadsheet(data).sheets == ["Log", "Products"]
    assert rows_of(data, "Products")[1].cells == ("Sample Moss Wash",)


@pytest.mark.parametrize(
    ("data", "fault"),
    [
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "old_workbook"),
        (b"PK\x03\x04 and then nothing of a zip", "not_workbook"),
        (b"a,b\n\x00\x01,\x02", "not_text"),
        (b"a,b\n" + b"x" * (MOST_MEGABYTES * 1_000_000), "too_big"),
        (b",".join([b"a"] * (MOST_COLUMNS + 1)) + b"\n1\n", "too_many_columns"),
    ],
)
def test_what_is_no_table_is_refused_in_words(data, fault):
    assert refusal(data) == fault


def test_a_workbook_with_macros_is_refused():
    assert refusal(with_part(book(["A"], [1]), "xl/vbaProject.bin", b"program")) == "macros"


def test_a_workbook_that_would_unpack_to_gigabytes_is_refused_before_it_is_unpacked():
    data = with_part(book(["A"], [1]), "xl/worksheets/sheet1.xml", b" " * 54_321)
    bomb = data.replace((54_321).to_bytes(4, "little"), (2_000_000_000).to_bytes(4, "little"))
    assert refusal(bomb) == "zip_bomb"


def test_a_part_that_says_to_be_smaller_than_it_is_is_told_as_damaged():
    data = bytearray(with_part(book(["A"], [1]), "xl/worksheets/sheet1.xml", b"<worksheet>" + b" " * 50_000))
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        real = archive.getinfo("xl/worksheets/sheet1.xml").file_size
    lying = bytes(data).replace(real.to_bytes(4, "little"), (100).to_bytes(4, "little"))
    assert refusal(lying) == "not_workbook"


def test_a_sheet_with_entities_of_its_own_is_refused():
    sheet = b'<!DOCTYPE a [<!ENTITY b "bb"><!ENTITY c "&b;&b;">]><worksheet><sheetData/></worksheet>'
    assert refusal(with_part(book(["A"], [1]), "xl/worksheets/sheet1.xml", sheet)) == "not_workbook"
    strings = b'<!DOCTYPE a [<!ENTITY b SYSTEM "other.xml">]><sst><si><t>&b;</t></si></sst>'
    assert refusal(with_part(book(["A"], ["x"]), "xl/sharedStrings.xml", strings)) == "not_workbook"
    relations = b'<!DOCTYPE a [<!ENTITY b "bb">]><Relationships/>'
    assert refusal(with_part(book(["A"], [1]), "xl/_rels/workbook.xml.rels", relations)) == "not_workbook"


def test_a_row_of_too_many_cells_is_refused_when_its_first_such_cell_is_seen():
    wide = b'<worksheet><sheetData><row r="1"><c r="ZZ1"><v>1</v></c></row></sheetData></worksheet>'
    assert refusal(with_part(book(["A"], [1]), "xl/worksheets/sheet1.xml", wide)) == "too_many_columns"


@pytest.mark.parametrize(
    "broken", [b"<worksheet><sheetData>", b"<row r='x'><c t='s'><v>99</v></c></row>", b"\0"]
)
def test_a_broken_sheet_is_told(broken):
    data = with_part(book(["A"], ["x"]), "xl/worksheets/sheet1.xml", broken)
    assert refusal(data) == "not_workbook"


def test_a_table_is_read_whatever_divides_it_and_whatever_stands_above():
    text = "Quillfeather Exterior Care\n2023\n\nFecha;Cliente;Señal\n3-4-2023;A. Marlowe;  dos   palabras \n"
    rows = rows_of(text.encode("cp1252"))
    assert [(row.number, row.cells) for row in rows[2:]] == [
        (4, ("Fecha", "Cliente", "Señal")),
        (5, ("3-4-2023", "A. Marlowe", "dos palabras")),
    ]
