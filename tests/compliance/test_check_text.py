"""A check as text for a person."""

from compliance.check import check_document
from compliance.check_text import check_text
from records.document.context import Context
from records.document.reader import read
from tests.compliance.rulebook.builders import TEXT, WIND, check, rule


def test_a_section_without_entries_is_left_out() -> None:
    text = check_text(check(rule(**WIND), questions=None, changes={"site.county": None}), "en")
    assert "Open questions" not in text
    assert "Not checked" not in text


def test_open_questions_and_rules_from_memory_are_said() -> None:
    text = check_text(check(rule(**WIND, text="memory", doubt=TEXT)), "en")
    assert "Is a roof land? (the office)" in text
    assert "the text of this rule is from memory" in text


def test_a_document_without_a_place_has_no_limits_and_says_what_is_missing() -> None:
    bare = read({"schema": "treatment-document/1", "record": {"result": "stood-down"}})
    text = check_text(check_document(bare, Context()), "en")
    assert "Limits in force" not in text
    assert "site.jurisdictions" in text
