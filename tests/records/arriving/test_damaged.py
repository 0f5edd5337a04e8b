"""Whatever is in a file or a cell: it is read, or told in both languages; nothing else comes out."""

import io
import random
import zipfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from records.arriving.doubts import Scan
from records.arriving.entries import Entries
from records.arriving.kinds import KINDS
from records.arriving.reading import Asked
from records.arriving.sheets import Spreadsheet
from records.imports.faults import FileError
from records.imports.table import Row
from tests.records.arriving.books import book, part_of, rows_of, with_part

SPREADSHEETS = Path(__file__).parents[3] / "fixtures" / "spreadsheets"
SIGNS = b'<>/="0123456789eE-.&;:xsdr\x00\xff'
ODD = (
    *("5 gal", "=1+1", "#REF!", "31/02/2025", "03/04/2025", "2025-04-03", "9:15-9:50", "calm", "SW 5 mph"),
    *("-3", "1e9", "9" * 30 + " gal", "½ gal", "1/2 gal", "5\u00a0gal", "x" * 3000, "\0", "\ud800", "Ã©"),
    *("1,2,3", "1.200,50", "0000-00-00", "9999-12-31", "24:00", "-", "101%", "nan", "٣", "５ gal", "1'000"),
    *("5--6", "oz", "10 fl oz"),
)
CELL = st.one_of(st.sampled_from(ODD), st.text(max_size=30))
UNITS = st.sampled_from(["", "gal", "oz", "ft**2", "mph", "degF"])


def read_all(data: bytes) -> None:
    try:
        file = Spreadsheet(data)
        for sheet in file.sheets:
            list(file.rows(sheet))
            file.merged_across(sheet, 1)
    except FileError as error:
        assert all(fault.say("en") and fault.say("es") for fault in error.faults)


def damaged(data: bytes, chance: random.Random) -> bytes:
    bytes_ = bytearray(data)
    for _ in range(chance.choice([1, 4, 30])):
        place = chance.randrange(len(bytes_))
        if chance.random() < 0.5:
            bytes_[place] = chance.choice(SIGNS)
        elif len(bytes_) > 100:
            del bytes_[place : place + chance.choice([1, 8, 50])]
    return bytes(bytes_)


def with_a_damaged_part(data: bytes, chance: random.Random) -> bytes:
    archive = zipfile.ZipFile(io.BytesIO(data))
    parts = {name: archive.read(name) for name in archive.namelist()}
    name = chance.choice([name for name in parts if name.startswith("xl/")])
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as written:
        for each, content in parts.items():
            written.writestr(each, damaged(content, chance) if each == name else content)
    return made.getvalue()


def turns(count: int) -> Iterator[random.Random]:
    return (random.Random(seed) for seed in range(count))


def test_a_damaged_workbook_or_table_is_read_or_told():
    book = (SPREADSHEETS / "fernhollow-office.xlsx").read_bytes()
    table = (SPREADSHEETS / "penaclara-bitacora.csv").read_bytes()
    for chance in turns(60):
        read_all(damaged(book, chance))
        read_all(with_a_damaged_part(book, chance))
        read_all(damaged(table, chance))


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=30)
@given(data=st.data())
def test_any_cells_are_read_or_told(kind, data):
    names = [member.name for member in KINDS[kind]]
    cells = tuple(data.draw(st.lists(CELL, min_size=len(names), max_size=len(names))))
    asked = Asked(
        data.draw(st.sampled_from(["", "mdy", "dmy"])),
        data.draw(st.sampled_from(["", "point", "comma"])),
        data.draw(st.sampled_from(["", "fl_oz", "oz"])),
        {name: unit for name in names if (unit := data.draw(UNITS))},
    )
    scan = Scan(kind, names, asked)
    scan.look(cells)
    assert all(doubt.choices for doubt in scan.doubts())
    (row,) = Entries(kind, names, names, asked, date(2026, 9, 14)).read([Row(2, cells)])
    assert all(fault.say("en") and fault.say("es") and fault.row == 2 for fault in row.faults)


@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"])
@pytest.mark.parametrize("opened", [b'<a><c r="', b"<a><!-- ", b"<!-- ", b"<"])
def test_a_tag_that_does_not_end_is_refused_before_much_of_it_is_read(part, opened):
    unended = with_part(book(["Date"], ["x"]), part, opened + b"A" * 4_000_000)
    with pytest.raises(FileError) as refused:
        rows_of(unended)
    assert refused.value.faults[0].wording_id == "zip_bomb"


SHEET, STRINGS = "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"


def fault_of(data: bytes) -> str:
    with pytest.raises(FileError) as refused:
        rows_of(data)
    return refused.value.faults[0].wording_id


@pytest.mark.parametrize("way", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_workbook_that_is_packed_in_a_way_without_a_bound_is_refused(way):
    packed = io.BytesIO(with_part(book(["A"], [1]), SHEET, b"<worksheet/>"))
    with zipfile.ZipFile(packed, "a", way) as archive:
        archive.writestr("xl/other.xml", b" " * 1000)
    assert fault_of(packed.getvalue()) == "not_workbook"


def test_sheets_that_share_one_part_are_refused():
    two, name = book(["A"], [1], Other=[["B"]]), "xl/_rels/workbook.xml.rels"
    shared = part_of(two, name).replace(b"worksheets/sheet2.xml", b"worksheets/sheet1.xml")
    assert fault_of(with_part(two, name, shared)) == "not_workbook"


def test_of_a_sheet_that_goes_on_without_end_little_is_read_to_show_its_first_rows():
    row = b'<row r="1"><c r="A1" t="str"><v>Date</v></c></row>'
    endless = b"<worksheet><sheetData>" + row + b"<x/>" * 400_000 + b"<damaged"
    file = Spreadsheet(with_part(book(["A"], [1]), SHEET, endless))
    assert [row.cells for row in file.first_rows(file.sheets[0], 30)] == [("Date",)]


def test_tags_that_hold_nothing_are_counted(monkeypatch):
    monkeypatch.setattr("records.arriving.sheet_xml.MOST_TAGS", 1_000)
    sheet = b"<worksheet>" + b"<x/>" * 1_000 + b"</worksheet>"
    assert fault_of(with_part(book(["A"], [1]), SHEET, sheet)) == "zip_bomb"
    monkeypatch.setattr("records.arriving.workbook.MOST_TEXT", 25_000)
    strings = b"<sst><si>" + b"<t/>" * 1_000 + b"</si></sst>"
    assert fault_of(with_part(book(["A"], ["x"]), STRINGS, strings)) == "zip_bomb"


def test_one_long_text_in_every_cell_is_refused(monkeypatch):
    monkeypatch.setattr("records.arriving.sheet_xml.MOST_SAID", 10_000)
    assert fault_of(book(*[["x" * 500]] * 21)) == "zip_bomb"
    assert len(rows_of(book(*[["x" * 500]] * 20))) == 20


@pytest.mark.parametrize("style", ["<numFmt numFmtId='²' formatCode='d'/>", f"<xf numFmtId='{'9' * 5000}'/>"])
def test_a_style_whose_number_is_none_is_told(style):
    styles = f"<styleSheet><numFmts>{style}</numFmts><cellXfs>{style}</cellXfs></styleSheet>"
    with pytest.raises(FileError) as refused:
        rows_of(with_part(book(["Date"], [1]), "xl/styles.xml", styles.encode()))
    assert refused.value.faults[0].wording_id == "not_workbook"
