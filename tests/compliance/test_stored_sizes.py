"""A stored size is said as its finding's sentence has it: parts of hours and minutes never as decimals."""

import pytest

from compliance.check import check_document
from compliance.papers.check_sheet import CheckSubject
from compliance.papers.check_sheet.content import content_of
from compliance.stored_sizes import stored_size
from records.document.context import Context
from records.document.reader import read
from shared.paper import Grid
from tests.compliance.patched import load


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        ("6.36364", "min", "6 min 21 s"),
        ("0.333333", "min", "20 s"),
        ("26.2167", "hour", "26 h 13 min"),
        ("35", "min", "35 min"),
        ("4", "hour", "4 h"),
        ("11.5", "km/h", "11.5 km/h"),
    ],
)
def test_a_part_of_an_hour_or_minute_is_said_in_minutes_and_seconds(value: str, unit: str, words: str) -> None:
    said = stored_size({"value": value, "unit": unit})
    assert (said.say("en"), said.say("es")) == (words, words)


def test_the_check_sheet_says_the_rigs_time_in_minutes_and_seconds() -> None:
    """14 gal at 2.2 gal/min: 6.3636… min."""
    check = check_document(read(load("facts/roof-in-september.json")), Context()).stored()
    content = content_of(check, CheckSubject("Quillfeather Exterior Care", "1", "1", True, ()), "en")
    grids = [block for section in content.sections for block in section.blocks if isinstance(block, Grid)]
    (row,) = [row for grid in grids for row in grid.rows if row.cells[0] == "Time and flow"]
    assert row.cells[1:3] == ("6 min 21 s", "35 min")
