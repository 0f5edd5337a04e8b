"""No false all-clear: what was not checked is always said."""

from datetime import date
from typing import Any

from compliance.check import check_document
from records.document.context import Context
from records.document.reader import read
from tests.compliance.patched import load, patched
from tests.compliance.rulebook.builders import TEXT, WIND, check, rule

LAW = rule(**WIND)


def test_without_jurisdictions_it_cant_be_told_which_law_applies() -> None:
    found = check(LAW, changes={"site.jurisdictions": None})
    (places,) = [one for one in found.findings if one.rule == "rulebook/places"]
    assert (found.outcome, places.about) == ("cant_tell", ("site.jurisdictions",))
    assert found.packs == ()
    assert check(LAW, changes={"site": None}).outcome == "cant_tell"


def test_a_state_without_a_pack_is_named_and_the_whole_is_no_better_than_cant_tell() -> None:
    found = check(LAW, changes={"site.jurisdictions": ["us-wa", "us-or"]})
    assert (found.not_covered, found.outcome) == (("us-or",), "cant_tell")
    assert "There is no rule pack for us-or: its law was not checked." in found.to_json("en")["not_checked"]


def test_a_county_without_a_pack_is_named_only() -> None:
    found = check(LAW, changes={"site.jurisdictions": ["us-wa", "us-wa-quill", "us-wa-quill-port"]})
    assert (found.not_covered, found.outcome) == (("us-wa-quill", "us-wa-quill-port"), "met")


def test_a_breach_weighs_more_than_a_missing_pack() -> None:
    changes = {
        "site.jurisdictions": ["us-wa", "us-or"],
        "weather.readings[0].wind_speed": {"value": "14", "unit": "mph"},
    }
    assert check(LAW, changes=changes).outcome == "not_met"


def test_what_a_pack_leaves_out_and_what_no_record_shows_stand_with_every_answer() -> None:
    found = check(
        LAW, leaves_out=[TEXT], reminders=[{"cite": "Act 2", "says": {"en": "Carry it.", "es": "Llévela."}}]
    )
    said = found.to_json("es")["not_checked"]
    assert "texto" in said
    assert "No lo muestra un registro: Llévela. (Act 2)" in said


def test_a_pack_covers_the_days_that_it_names() -> None:
    ended: dict[str, Any] = {"until": "2026-09-14", "from": "2001-01-01"}
    found = check(LAW, **ended, changes={"site.jurisdictions": ["us-wa"]})
    assert (found.packs, found.not_covered) == ((), ("us-wa",))
    assert check(LAW, until="2026-09-15", changes={"site.jurisdictions": ["us-wa"]}).not_covered == ()


def test_an_empty_document_is_checked_without_an_error() -> None:
    bare = read({"schema": "treatment-document/1", "record": {}})
    assert check_document(bare, Context()).outcome == "cant_tell"


def test_the_day_of_the_check_is_the_contexts_unless_another_is_given() -> None:
    document = read(patched(load("facts/roof-in-september.json"), {}))
    assert check_document(document, Context(on="2026-09-15")).stored()["on"] == "2026-09-15"
    given = check_document(document, Context(on="2026-09-15"), date(2026, 9, 20))
    assert given.stored()["on"] == "2026-09-20"
    assert check_document(document, Context()).stored()["on"] is None
