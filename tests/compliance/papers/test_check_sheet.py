"""The check sheet: findings with source, bound and what is on record; doubts, answers, what was left out."""

from datetime import date
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from compliance.check import check_document
from compliance.papers import check_sheet
from compliance.papers.check_sheet import CheckSubject
from compliance.papers.check_sheet.content import content_of
from compliance.papers.check_sheet.findings import PRACTICE
from compliance.papers.check_sheet.wording import WORDS
from compliance.said_in import cite_in
from records.document.context import Context
from records.document.reader import read
from shared.paper import Grid, SectionedPaper, as_json
from tests.compliance.papers.pdf import fonts_of, squeezed, text_of
from tests.compliance.papers.samples import ANSWERS, FACTS, stored_check
from tests.compliance.patched import load

SUBJECT = CheckSubject("Quillfeather Exterior Care", "2026-0142", "1", True, ANSWERS)


def printed(check: dict[str, Any], subject: CheckSubject = SUBJECT, **options: Any) -> PdfReader:
    return PdfReader(BytesIO(check_sheet.build(check, subject, **options)))


def sections(content: SectionedPaper) -> dict[str, list[str]]:
    """The first cells of each section's tables, by the section's title."""
    return {
        section.title: [
            row.cells[0] for block in section.blocks if isinstance(block, Grid) for row in block.rows
        ]
        for section in content.sections
    }


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_content_is_as_looked_at(golden, language: str) -> None:
    golden(f"check.{language}", as_json(content_of(stored_check(), SUBJECT, language)))


def test_outcomes_are_told_apart_by_words_and_shape() -> None:
    found = sections(content_of(stored_check(), SUBJECT, "en"))
    assert found["✗ Not met (1)"] == ["Wind within the label's limit"]
    assert found["? Can't tell (1)"] == ["Supervision of a helper"]
    assert found["✓ Met (1)"] == ["Temperature"]
    assert found["– Doesn't apply (2)"] == ["Keep the record", "Copy to the customer"]


def test_a_rule_from_memory_is_said_to_be_so_and_not_printed_as_a_breach() -> None:
    found = sections(content_of(stored_check(), SUBJECT, "en"))
    assert found["◇ To be confirmed (1)"] == ["Address of the person"]
    text = text_of(printed(stored_check()))
    assert squeezed("The text of this rule is from memory.") in text
    assert squeezed("Doubt: These lines of the form were not seen.") in text


def test_the_whole_is_no_breach_where_only_a_rule_from_memory_is_not_met() -> None:
    check = stored_check()
    check["findings"] = [one for one in check["findings"] if one["text"] == "memory"]
    assert content_of(check, SUBJECT, "en").head[0].value == "◇ To be confirmed"


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_stored_sentence_source_and_digest_is_printed(language: str, paper: str) -> None:
    check = stored_check()
    text = text_of(printed(check, language=language, paper=paper))
    pack = check["packs"][0]
    said = [check["document"], check["context"], pack["digest"], pack["version"], pack["caution"][language]]
    said += [check["not_checked"][0][language], "US-WA-QUILL", check["questions"][0]["asks"][language]]
    said += [ANSWERS[0]["reason"]]
    for finding in check["findings"]:
        cite = cite_in(finding["cite"], language)
        said += [finding["message"][language], finding["title"][language], cite, finding["rule"]]
    assert [one for one in said if squeezed(one) not in text] == []


def test_what_is_on_record_stands_beside_what_the_rule_asks() -> None:
    section = content_of(stored_check(), SUBJECT, "en").sections[0]
    grid = next(block for block in section.blocks if isinstance(block, Grid))
    assert grid.rows[0].cells[1:3] == ("14 mph", "at most 10 mph")


def test_the_bounds_of_a_real_check_say_at_most_or_at_least() -> None:
    document = read((FACTS / "roof-in-september.json").read_text())
    stored = check_document(document, Context(), date(2026, 9, 15)).stored()
    rows = {
        row.detail.split(" · ")[1]: row.cells[2]
        for section in content_of(stored, SUBJECT, "en").sections
        for block in section.blocks
        if isinstance(block, Grid) and len(block.columns) == 5
        for row in block.rows
    }
    assert rows["label/99999-12/wind_speed"] == "at most 10 mph"
    assert rows["label/99999-12/hours_dry_after"] == "at least 4 h"
    assert rows["us-wa/deadline/same-day"].startswith("by ")


def test_law_label_firm_policy_and_good_practice_are_told_apart() -> None:
    check = stored_check()
    layers = ("law", "label", "firm", "law")
    for finding, layer in zip(check["findings"], layers, strict=False):
        finding["layer"] = layer
    check["findings"][3] |= {"cite": PRACTICE, "text": "memory"}
    details = [
        row.detail
        for section in content_of(check, SUBJECT, "en").sections
        for block in section.blocks
        if isinstance(block, Grid) and len(block.columns) == 5
        for row in block.rows
    ]
    for said in (" · law", " · label", " · firm policy"):
        assert any(said in detail for detail in details)
    (practice,) = [detail for detail in details if " · good practice" in detail]
    assert "law" not in practice
    assert "from memory" not in practice


def test_days_due_and_of_keeping_are_said() -> None:
    text = text_of(printed(stored_check()))
    assert squeezed("keep until September 14, 2033") in text
    assert squeezed("due Oct 14, 2026, 23:59:59 (UTC-07:00)") in text


def test_met_is_said_to_be_no_approval_and_the_sheet_no_legal_advice() -> None:
    text = text_of(printed(stored_check()))
    assert squeezed("This is no approval") in text
    assert squeezed("Help, not legal advice, and no approval.") in text


def test_the_check_of_a_mere_document_is_stamped() -> None:
    pages = printed(stored_check(), CheckSubject()).pages
    assert all("NOT SIGNED" in page.extract_text() for page in pages)


def test_the_same_check_gives_the_same_bytes_with_embedded_fonts() -> None:
    first, second = (check_sheet.build(stored_check(), SUBJECT) for _ in range(2))
    assert first == second
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts_of(PdfReader(BytesIO(first))))


def test_a_check_without_findings_says_so() -> None:
    check = stored_check() | {"findings": [], "packs": [], "limits": [], "outcome": "cant_tell"}
    assert squeezed("No rule was found to judge.") in text_of(printed(check))


def test_every_wording_has_the_same_blanks_in_both_languages() -> None:
    assert [key for key, one in WORDS.items() if one.blank_names("en") != one.blank_names("es")] == []


def test_a_bound_says_on_which_side_it_lies_and_advice_is_not_shown_as_law() -> None:
    check = check_document(read(load("documents/example.json")), Context(on="2026-09-15")).stored()
    check["limits"][0] |= {"level": "advised", "text": "memory"}
    check["limits"][0]["set_by"] = {"layer": "law", "rule": "xx/wind", "cite": "Leaflet"}
    rows = [
        row.cells
        for section in content_of(check, SUBJECT, "en").sections
        for block in section.blocks
        if isinstance(block, Grid)
        for row in block.rows
    ]
    (wind,) = [cells for cells in rows if cells[0] == "Wind"]
    assert "at most 10 mph" in wind
    assert "Leaflet (advised; from memory, to be confirmed)" in [cells[-1] for cells in rows]
