"""Columns of any name are matched to members, and what a file can't tell is asked."""

from datetime import date

import pytest

from records.arriving.doubts import Scan
from records.arriving.entries import Entries, refuse_columns
from records.arriving.exact import Exact
from records.arriving.kinds import guessed_columns, guessed_header, guessed_units, read_header
from records.arriving.reading import Asked
from records.imports.faults import FileError
from records.imports.table import Row

HEADER = ("Date", "Customer", "Product", "Amount (oz)", "Sq Ft", "Wind mph", "Comments")
COLUMNS = ["day", "customer", "product", "amount", "treated", "wind", "notes"]
TODAY = date(2026, 9, 14)


def entries(*cells, header=HEADER, columns=COLUMNS, kind="treatments", **asked):
    rows = [Row(number, each) for number, each in enumerate(cells, start=2)]
    asked.setdefault("units", guessed_units(kind, header, columns))
    asked.setdefault("ounces", "fl_oz")
    return list(Entries(kind, header, columns, Asked(**asked), TODAY).read(rows))


def faults(*cells, **more):
    return [(each.row, each.column, each.wording_id) for row in entries(*cells, **more) for each in row.faults]


def test_columns_are_guessed_by_their_names_with_units_in_them():
    assert guessed_columns("treatments", HEADER) == COLUMNS
    assert guessed_units("treatments", HEADER, COLUMNS) == {"amount": "oz", "treated": "ft**2", "wind": "mph"}
    spanish = ("Fecha", "Cliente", "Dirección", "Producto", "Cantidad (L)", "Viento (km/h)", "Técnico")
    assert guessed_columns("treatments", spanish) == [
        "day",
        "customer",
        "line1",
        "product",
        "amount",
        "wind",
        "applicator",
    ]


@pytest.mark.parametrize(
    ("cell", "name", "unit"),
    [
        ("Wind (mph)", "wind", "mph"),
        ("Temp, °F", "temp", "degF"),
        ("Area sq ft", "area", "ft**2"),
        ("Area [m²]", "area", "m**2"),
        ("Notes (any)", "notes any", ""),
        ("Customer", "customer", ""),
    ],
)
def test_a_header_is_taken_apart(cell, name, unit):
    header = read_header(cell)
    assert (header.name, header.unit) == (name, unit)


def test_kind_and_header_are_found_below_a_letterhead():
    rows = [Row(1, ("Quillfeather Exterior Care",)), Row(3, ("Log of 2023", "", "")), Row(4, HEADER)]
    assert guessed_header(rows) == ("treatments", 4)
    assert guessed_header([Row(1, ("Name", "Address", "City", "Phone", "Email"))]) == ("customers", 1)
    assert guessed_header([Row(1, ("Product", "EPA Reg No", "Signal Word", "Lot"))])[0] == "products"
    assert guessed_header([Row(1, ("Name", "State", "License Number", "Expires"))])[0] == "licences"
    assert guessed_header([Row(1, ("Client", "Site", "Address", "County", "Latitude"))])[0] == "sites"


def test_columns_that_can_t_be_right_are_told():
    with pytest.raises(FileError) as caught:
        refuse_columns("treatments", ["day", "day", "notes", "notes"])
    assert [each.wording_id for each in caught.value.faults] == ["twice", "missing_column"]


def scan(*cells, asked=None, columns=("day", "amount", "treated")):
    looked = Scan("treatments", columns, asked or Asked())
    for each in cells:
        looked.look(each)
    return looked


def doubts(*cells, **more):
    return [(each.about, each.member) for each in scan(*cells, **more).doubts()]


def test_a_day_of_two_readings_is_asked_unless_another_row_tells():
    assert doubts(("03/04/2025", "", "")) == [("date_order", "")]
    assert doubts(("03/04/2025", "", ""), ("25/04/2025", "", "")) == []
    assert scan(("03/04/2025", "", ""), ("25/04/2025", "", "")).settled().date_order == "dmy"
    assert doubts(("03/04/2025", "", ""), ("25/04/2025", "", ""), ("4/25/2025", "", "")) == [("date_order", "")]
    assert doubts(("03/04/2025", "", ""), asked=Asked(date_order="mdy")) == []
    assert doubts(("03/04/2025", "", ""), ("31/02/2025", "", "")) == [("date_order", "")]
    assert doubts((Exact("2025-04-03"), "", ""), ("04/04/2025", "", "")) == []


def test_a_unit_that_stands_nowhere_is_asked_and_so_are_ounces_and_a_comma():
    assert doubts(("", "12", "1,200")) == [("unit", "amount"), ("decimal", ""), ("unit", "treated")]
    assert doubts(("", "12 oz", "1,200 sq ft")) == [("ounces", ""), ("decimal", "")]
    assert doubts(("", "12 fl oz", "1200 sq ft")) == []
    asked = Asked(units={"amount": "oz", "treated": "ft**2"}, ounces="fl_oz", decimal="point")
    assert doubts(("", "12", "1,200"), asked=asked) == []


def test_a_comma_is_not_asked_where_another_number_tells_what_it_is():
    assert scan(("", "1.5 gal", "1,200 sq ft")).settled().decimal == "point"
    assert scan(("", "1,5 L", "1,200 m2")).settled().decimal == "comma"
    assert doubts(("", "1.5 gal", "1,200 sq ft")) == []
    assert doubts(("", "1,5 gal", "1,200 sq ft"), ("", "2.5 gal", "")) == [("decimal", "")]


def test_a_doubt_offers_the_units_of_its_dimensions_with_examples():
    (doubt,) = scan(("", "", "1200"), ("", "", "1300")).doubts()
    assert doubt.examples == ("1200", "1300")
    assert {"ft**2", "m**2"} <= set(doubt.choices) and "gal" not in doubt.choices


def test_a_row_is_read_cell_by_cell():
    (row,) = entries(("2025-04-03", "A. Marlowe", "Sample Moss Wash", "12", "1200", "SW 5", "steep"))
    assert row.faults == []
    assert row.entry["day"] == date(2025, 4, 3)
    assert (row.entry["amount"].unit, row.entry["treated"].unit) == ("fl_oz", "ft**2")


def test_every_fault_is_told_by_row_and_cell():
    told = faults(
        ("31/02/2025", "", "Sample Moss Wash", "5 gallons per nothing", "x", "SW 5", "=1"),
        ("2025-04-03", "A. Marlowe", "", "12", "", "", ""),
        ("2027-01-01", "A. Marlowe", "", "", "", "", ""),
    )
    assert told == [
        (2, "A2 · Date", "no_such_day"),
        (2, "D2 · Amount (oz)", "quantity"),
        (2, "E2 · Sq Ft", "quantity"),
        (2, "G2 · Comments", "formula"),
        (2, "", "missing"),
        (3, "", "needs_product"),
        (4, "", "day_ahead"),
    ]


def test_a_row_that_comes_twice_is_told_with_the_first():
    row = ("2025-04-03", "A. Marlowe", "", "", "", "", "")
    told = entries(row, row)[1].faults
    assert [(each.wording_id, each.blanks) for each in told] == [("double", {"row": "2"})]


def test_two_treatments_of_one_number_and_a_finish_before_the_start_are_told():
    header, columns = (
        ("No", "Date", "Client", "Start", "End"),
        ["number", "day", "customer", "started", "finished"],
    )
    told = faults(
        ("17", "2025-04-03", "A. Marlowe", "9:15", "9:00"),
        ("17", "2025-04-04", "A. Marlowe", "9:15", "9:30"),
        header=header,
        columns=columns,
    )
    assert [each[2] for each in told] == ["before_start", "same_treatment"]


def test_several_columns_of_notes_keep_their_names():
    (row,) = entries(
        ("2025-04-03", "A. Marlowe", "steep", "two crews"),
        header=("Date", "Client", "Notes", "Crew remark"),
        columns=["day", "customer", "notes", "notes"],
    )
    assert row.entry["notes"] == "Notes: steep\nCrew remark: two crews"
