"""No text that leaves as a cell is taken for a formula by a spreadsheet."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.spreadsheet_cells import BYTE_ORDER_MARK, csv_lines, harmless, printed

BEGINS = ("=", "+", "-", "@", "\t", "\r")


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1", '"=1"', "a;=1", "＝1"])
def test_what_begins_like_a_formula_is_led_by_an_apostrophe(text):
    assert "'" in harmless(text)


@pytest.mark.parametrize("text", ["", "A. Marlowe", "4 Heron Row", "2026-0142", "a=b", "x - y"])
def test_what_does_not_stays_as_it_is(text):
    assert harmless(text) == text


@given(st.text())
def test_no_cell_ever_begins_with_such_a_sign(text):
    assert not harmless(text).startswith(BEGINS)
    assert not any("\x00" <= letter < "\t" for letter in printed(text))


@given(st.lists(st.lists(st.text(st.characters(codec="utf-8")), min_size=2, max_size=2), max_size=5))
def test_a_file_reads_back_as_its_harmless_cells(rows):
    text = "".join(csv_lines(["one", "two"], rows))
    assert text.startswith(BYTE_ORDER_MARK)
    read = list(csv.reader(io.StringIO(text.removeprefix(BYTE_ORDER_MARK), newline="")))
    assert read == [["one", "two"], *([harmless(cell) for cell in row] for row in rows)]
