"""What a record sheet says where a withheld section would stand, and of times whose zone is not known."""

from typing import Any

import pytest

from compliance.papers.record_sheet.content import PARTS
from shared.paper import Fact, Facts, Grid, Note, SectionedPaper
from tests.compliance.papers.samples import full, ordinary, signed
from tests.compliance.papers.test_record_sheet_content import column, fact, sheet

HIDDEN = "Withheld from this copy"
MISSING = ("not recorded", "not computable", "Not recorded.")


def everything() -> dict[str, Any]:
    """A record with something in every section."""
    document = full()
    document["permits"] = [{"number": "NPDES-7", "authority": "us-wa"}]
    document["postings"] = [{"where": "gate", "posted_at": "2026-09-14T08:30:00-07:00"}]
    return document


def said(content: SectionedPaper) -> list[str]:
    """All that stands on the sheet below its head."""
    lines = [content.firm]
    for block in (block for section in content.sections for block in section.blocks):
        if isinstance(block, Facts):
            lines += [text for one in block.facts if isinstance(one, Fact) for text in (one.value, one.beside)]
        elif isinstance(block, Grid):
            lines += [text for row in block.rows for text in (*row.cells, row.detail)]
        elif isinstance(block, Note):
            lines.append(block.text)
    return lines


def missing(content: SectionedPaper) -> int:
    return sum(one in text for text in said(content) for one in MISSING)


@pytest.mark.parametrize("name", sorted({need for needs, _title, _part in PARTS for need in needs}))
def test_nothing_is_said_to_be_missing_because_it_is_withheld(name: str) -> None:
    whole, copy = sheet(signed(everything())), sheet(signed(everything(), withhold=(name,)))
    assert missing(copy) <= missing(whole)
    assert any(HIDDEN in text for text in said(copy))


def test_each_place_of_a_part_says_by_itself_that_it_is_withheld() -> None:
    copy = sheet(signed(everything(), withhold=("surfaces", "permits", "targets")))
    assert fact(copy, "Site")[0] == fact(sheet(everything()), "Site")[0]
    assert fact(copy, "Against") == (HIDDEN, f"permits: {HIDDEN}")
    assert fact(copy, "Total area treated")[0] == HIDDEN
    assert column(copy, "Rate") == [HIDDEN]
    assert "not" not in column(copy, "Total applied")[0]


def test_signs_are_said_where_only_the_notices_are_withheld() -> None:
    copy = sheet(signed(everything(), withhold=("notices",)))
    notes = next(one for one in copy.sections if one.title == "Notices and signs").blocks
    assert [note.text for note in notes] == [HIDDEN, "gate, 08:30"]


def test_without_the_site_times_stand_with_their_offset_and_the_zone_is_said_to_be_withheld() -> None:
    copy = sheet(signed(ordinary(), withhold=("site",)))
    assert fact(copy, "Date of application")[1] == "time zone: withheld from this copy"
    assert fact(copy, "Start")[0] == "09:12 UTC-7"


def test_on_a_day_that_changes_the_clocks_every_time_stands_with_its_offset() -> None:
    """Daylight saving time of the United States ends on the first Sunday of November, 2:00 (15 U.S.C. 260a)."""
    document = ordinary()
    document["timing"] = {
        "started_at": "2026-11-01T01:50:00-07:00",
        "finished_at": "2026-11-01T01:10:00-08:00",
        "recorded_at": "2026-11-02T08:00:00-08:00",
    }
    content = sheet(document)
    assert fact(content, "Start")[0] == "01:50 UTC-7"
    assert fact(content, "Stop")[0] == "01:10 UTC-8"
    assert fact(content, "Recorded")[0] == "Nov 2, 2026, 08:00"


def test_the_signers_role_is_said_in_the_papers_language() -> None:
    file = signed(ordinary())
    file["record"]["signatures"][0]["role"] = "crew"
    facts = [one for block in sheet(file, "es").below if isinstance(block, Facts) for one in block.facts]
    assert facts[0].value == "R. Osei, cuadrilla"
