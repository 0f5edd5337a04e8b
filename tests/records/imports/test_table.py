"""Tables as the programs of others write them."""

import pytest

from records.imports.faults import FileError
from records.imports.table import MOST_COLUMNS, MOST_ROWS, read_table

LINES = [
    ["Name", "Street", "City"],
    ["B. Lark", "6 Heron Row", "Señor"],
    ["C. Wren", "8, Heron Row", "Port Quill"],
]


def written(delimiter: str) -> str:
    return "\r\n".join(delimiter.join(f'"{cell}"' if "," in cell else cell for cell in line) for line in LINES)


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "cp1252", "utf-8-sig", "utf-16"])
def test_a_table_is_read_whatever_stands_between_its_cells(delimiter, encoding):
    table = read_table(written(delimiter).encode(encoding))
    assert [table.header, *[row.cells for row in table.rows]] == [tuple(line) for line in LINES]
    assert table.delimiter == delimiter
    assert table.encoding == encoding.removesuffix("-sig")


def test_rows_are_counted_as_a_spreadsheet_counts_them_and_empty_ones_are_left_out():
    table = read_table(b"Name,Street\n\nB. Lark,6 Heron Row\n,\nC. Wren,8 Heron Row\n")
    assert [row.number for row in table.rows] == [3, 5]


def test_cells_that_are_left_away_at_the_end_are_empty():
    assert read_table(b"Street,City,Zip\n6 Heron Row\n").rows[0].cells == ("6 Heron Row", "", "")


@pytest.mark.parametrize(
    ("data", "faults"),
    [
        (b"", [("no_rows", 0)]),
        (b"Street\n", [("no_rows", 0)]),
        (b"\x00\x01\x02", [("not_text", 0)]),
        (b"PK\x03\x04\x81\x00", [("not_text", 0)]),
        (
            b"Street,City\n6 Heron Row,Port Quill,98000\n8,Port Quill\n9,a,b\n",
            [("more_cells", 2), ("more_cells", 4)],
        ),
        (b'Street,City\n"6 Heron"Row,Port Quill\n', [("not_csv", 2)]),
        (b'Street,City\n"6 Heron Row,Port Quill\n', [("not_csv", 2)]),
        (b"Street\n" + b"x\n" * (MOST_ROWS + 1), [("too_many_rows", 0)]),
        (b"," * MOST_COLUMNS + b"\nx", [("too_many_columns", 1)]),
        (b"a,b\n" + b"x" * 200_000 + b",b", [("not_csv", 2)]),
        (b"a" * 5_000_001, [("too_big", 0)]),
    ],
)
def test_what_is_no_table_is_refused_by_its_rows(data, faults):
    with pytest.raises(FileError) as refused:
        read_table(data)
    assert [(each.wording_id, each.row) for each in refused.value.faults] == faults
    assert all(each.say("en") and each.say("es") for each in refused.value.faults)
