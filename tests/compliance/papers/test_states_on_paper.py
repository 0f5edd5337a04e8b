"""What a paper says of its own standing: void, superseded, verified or not, stood down."""

from typing import Any

import pytest

from tests.compliance.papers.pdf import printed, squeezed, text_of
from tests.compliance.papers.samples import follow_ups, full, ordinary, signed
from tests.compliance.papers.test_record_sheet_content import column, fact, sheet

LATER = {"version": 3, "digest": "sha256:" + "2a" * 32}


def titles(file: dict[str, Any]) -> list[str]:
    return [section.title for section in sheet(file).sections]


def void() -> dict[str, Any]:
    document = full()
    document["record"]["reason"] = "Entered for the wrong house."
    return signed(document, entry={"kind": "void", "received_at": "2026-09-16T15:31:00+00:00"})


@pytest.mark.parametrize(("language", "said"), [("en", "VOID"), ("es", "ANULADO")])
def test_a_void_paper_says_so_at_its_head_and_on_every_page_and_why(language: str, said: str) -> None:
    pdf = printed(void(), language=language)
    assert all(page.extract_text().count(said) for page in pdf.pages)
    content = sheet(void(), language)
    assert content.title.startswith(f"{said} – ")
    assert squeezed("Entered for the wrong house.") in text_of(pdf)


def test_a_void_paper_claims_neither_a_correction_nor_a_treatment() -> None:
    content = sheet(void())
    assert [one.value for one in content.head[2:]] == ["void (had stated: treated)", "Void"]
    assert "Correction" not in titles(void())
    assert fact(content, "Makes void")[0] == "version 1"


def test_a_record_signed_as_void_is_void_without_the_servers_entry() -> None:
    file = void()
    del file["entry"]
    file["record"]["signatures"][0]["meaning"] = "void"
    assert sheet(file).head[3].value == "Void"


@pytest.mark.parametrize(
    ("kind", "state", "stamp"),
    [
        ("corrected", "Superseded by version 3", "SUPERSEDED – version 3 of this record exists and holds"),
        ("void", "Void since version 3", "VOID – version 3 made this record void"),
    ],
)
def test_a_reprint_says_what_has_happened_since(kind: str, state: str, stamp: str) -> None:
    file = signed(full(), superseded_by={**LATER, "kind": kind})
    content = sheet(file)
    assert content.head[3].value == state
    assert content.furniture.stamp == stamp
    assert titles(file)[0] == "Since then"
    assert LATER["digest"] in text_of(printed(file))


def test_a_paper_says_whether_its_signature_was_verified_and_with_which_key() -> None:
    with_key, without = signed(ordinary()), signed(ordinary(), keys={})
    (key,) = with_key["keys"]
    assert squeezed("Verified for this print with this key") in text_of(printed(with_key))
    assert key in text_of(printed(with_key))
    assert squeezed("THE SIGNATURE WAS NOT VERIFIED") in text_of(printed(without))
    assert squeezed("Verified for this print with this key") not in text_of(printed(without))


def test_a_follow_up_to_another_version_is_said_to_be_one() -> None:
    file = signed(ordinary(), follow_ups=follow_ups())
    assert squeezed("added to another version of this record") in text_of(printed(file))


def stood_down() -> dict[str, Any]:
    document = ordinary()
    document["record"] |= {"result": "stood-down", "why": "wind"}
    document["mixes"] = []
    del document["timing"]["started_at"], document["timing"]["finished_at"], document["protection"]
    for person in document["people"]:
        del person["tasks"], person["positions"], person["ppe"]
    return document


def test_a_day_that_did_not_happen_states_no_treated_area_and_nobody_who_applied() -> None:
    """Areas were planned at most, and those named were present."""
    text = text_of(printed(signed(stood_down())))
    for claim in ("Area treated", "Total area treated", "Applied by", "Applied for", "Products applied"):
        assert squeezed(claim) not in text
    content = sheet(stood_down())
    assert fact(content, "Area planned")[0] == "1342 ft²"
    assert {"Present", "Customer"} <= {section.title for section in content.sections}


@pytest.mark.parametrize(("licences", "said"), [(None, "not recorded"), ([], "none")])
def test_what_was_left_out_is_not_recorded_and_an_empty_list_says_none(licences: object, said: str) -> None:
    document = ordinary()
    for person in document["people"]:
        person["licences"] = licences
    assert set(column(sheet(document), "Licence no.")[-len(document["people"]) :]) <= {said, "CA-00017"}
    people = next(one for one in sheet(document).sections if one.title == "Applied by")
    assert people.blocks[0].rows[0].cells[2] == said


@pytest.mark.parametrize("name", ["people", "equipment", "incidents", "targets", "protection"])
def test_a_list_that_was_not_asked_is_told_from_an_empty_one(name: str) -> None:
    asked, unasked = ordinary() | {name: []}, ordinary()
    del unasked[name]
    if name in ("people", "equipment"):
        for document in (asked, unasked):
            document["mixes"] = document["protection"] = []
            document["weather"] = {"readings": []}
            document["people"] = document.get("people") if name == "people" else []
            if document["people"] is None:
                del document["people"]
    texts = [text_of(printed(document)) for document in (asked, unasked)]
    assert texts[0].count("notrecorded") + 1 == texts[1].count("notrecorded")
