"""By what a treatment is found, read from the documents of the fixtures."""

import json
from fractions import Fraction
from pathlib import Path

from records.document.reader import read
from records.register.terms import IN_WORDS, of_rules, strongest_wind, terms_of

EXAMPLE = json.loads((Path(__file__).resolve().parents[3] / "fixtures/documents/example.json").read_text())
READINGS = EXAMPLE["weather"]["readings"]


def named(document: dict, kind: str) -> set[str]:
    return {term.written for term in terms_of(read(document)) if term.kind == kind}


def test_each_kind_of_name_of_the_example_is_there_as_it_is_written():
    assert named(EXAMPLE, "customer") == {"A. Marlowe"}
    assert named(EXAMPLE, "site") == {"House, 4 Heron Row 4 Heron Row Port Quill 98000"}
    assert named(EXAMPLE, "county") == {"Quill County"}
    assert named(EXAMPLE, "place") == {"us", "us-wa"}
    assert named(EXAMPLE, "product") == {"Sample Moss Wash (99999-12)"}
    assert named(EXAMPLE, "registration") == {"99999-12"}
    assert named(EXAMPLE, "ingredient") == {"invented active"}
    assert named(EXAMPLE, "applicator") == {"R. Osei"}
    assert named(EXAMPLE, "licence") == {"CO-00231"}
    assert named(EXAMPLE, "result") == {"treated"}
    assert named(EXAMPLE, "incident") == set()


def test_what_is_compared_knows_no_case_and_no_second_space():
    spelled = {**EXAMPLE, "customer": {"name": " A.  MARLOWE "}}
    (term,) = [term for term in terms_of(read(spelled)) if term.kind == "customer"]
    assert (term.folded, term.written) == ("a. marlowe", "A. MARLOWE")


def test_a_helper_is_no_applicator_and_an_incident_is_found_by_its_kind():
    people = [*EXAMPLE["people"], {"name": "H. Elper", "role": "helper"}]
    incidents = [{"kind": "drift", "description": "over the fence"}] * 2
    document = {**EXAMPLE, "people": people, "incidents": incidents}
    assert named(document, "applicator") == {"R. Osei"}
    assert named(document, "incident") == {"drift"}


def test_a_document_without_anything_is_found_by_nothing():
    empty = read({"schema": "treatment-document/1", "record": {}})
    assert terms_of(empty) == set()
    assert strongest_wind(empty) is None


def test_the_strongest_wind_is_that_of_all_readings_whatever_their_units():
    winds = [{"value": "4", "unit": "mph"}, {"value": "2", "unit": "m/s"}, None]
    readings = [{**READINGS[0], "id": None, "wind_speed": wind} for wind in winds]
    document = {**EXAMPLE, "weather": {"readings": readings}}
    assert strongest_wind(read(document)) == Fraction(2)


def test_calm_air_is_no_wind_and_not_an_unknown_one():
    calm = {**EXAMPLE, "weather": {"readings": [{"at": READINGS[0]["at"], "calm": True}]}}
    assert strongest_wind(read(calm)) == 0


def test_findings_are_no_words_that_a_search_for_words_looks_through():
    (term,) = of_rules("not_met", ["us-wa/record/wind"])
    assert term.kind not in IN_WORDS
