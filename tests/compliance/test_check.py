"""No false all-clear: what was not checked is always said."""

from datetime import date
from typing import Any

import pytest

from compliance.check import check_document
from compliance.rulebook.places import is_wide
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
    assert ([one.id for one in found.packs], found.not_covered) == (["us"], ("us-wa",))
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


def test_a_state_implies_its_country_whose_pack_applies_too() -> None:
    both = check(LAW, changes={"site.jurisdictions": ["us", "us-wa"]})
    alone = check(LAW, changes={"site.jurisdictions": ["us-wa"]})
    assert [one.id for one in alone.packs] == [one.id for one in both.packs] == ["us", "xx"]
    county = check(LAW, changes={"site.jurisdictions": ["us-wa-quill"]})
    assert (county.not_covered, county.outcome) == (("us-wa-quill",), "met")


def test_a_treatment_before_a_packs_first_day_is_told_from_when_the_pack_holds() -> None:
    """The pack of New York begins on 24 June 2022."""
    york = load("facts/roof-in-new-york.json")
    old = {"timing.started_at": "2020-09-14T09:12:00-04:00", "timing.finished_at": "2020-09-14T09:47:00-04:00"}
    said = check_document(read(patched(york, old)), Context()).to_json("en")["not_checked"]
    without = "There is no rule pack for us-ny for that day: its law was not checked."
    assert f"{without} The pack holds from 2022-06-24 on." in said


def test_a_part_of_a_country_that_is_not_federal_is_covered_by_the_countrys_pack() -> None:
    britain = load("facts/roof-in-britain.json")
    for places, missing in ((["gb", "gb-eng"], ("gb-eng",)), (["gb-eng"], ("gb-eng",)), (["gb"], ())):
        found = check_document(read(patched(britain, {"site.jurisdictions": places})), Context())
        assert "gb" in [one.id for one in found.packs]
        assert found.not_covered == missing
        assert not [one for one in found.findings if one.rule.startswith("rulebook/places")]
        assert not [place for place in missing if is_wide(place)]
    several = ("us-wa", "ca-bc", "au-nsw", "gb", "us-indian-country", "gb-nir", "us-wa-king")
    assert [place for place in several if is_wide(place)] == list(several[:-1])


@pytest.mark.parametrize(
    ("place", "named"),
    [
        ("us-tx-indian-wells", ["us-tx", "us-tx-indian-wells"]),
        ("us-ny-new-york-city", ["us-ny", "us-ny-new-york-city"]),
        ("us-indian-country", ["us-indian-country"]),
        ("us-indian-country-quill-reservation", ["us-indian-country", "us-indian-country-quill-reservation"]),
    ],
)
def test_a_place_of_several_words_is_named_whole(place: str, named: list[str]) -> None:
    found = check(LAW, changes={"site.jurisdictions": [place], "site.address": None})
    assert list(found.not_covered) == named
    said = found.to_json("en")["not_checked"]
    assert f"There is no rule pack for {named[0]}: its law was not checked." in said
    assert found.outcome == "cant_tell"


@pytest.mark.parametrize(
    ("address", "places", "place"),
    [
        ({"country": "US", "region": "WA"}, ["us"], "us-wa"),
        ({"country": "US", "region": "WA"}, ["us-or"], "us-wa"),
        ({"country": "US", "region": "WA"}, ["ca", "ca-bc"], "us-wa"),
        ({"country": "DE", "region": "BY"}, ["eu"], "de"),
        ({"country": "GB"}, ["us", "us-wa"], "gb"),
        ({"country": "US", "region": "Oregon"}, ["us", "us-wa"], "us-or"),
        ({"country": "US", "region": "o.r."}, ["us", "us-wa"], "us-or"),
        ({"country": "US", "region": "District of Columbia"}, ["us", "us-md"], "us-dc"),
        ({"region": "oregon"}, ["us", "us-wa"], "us-or"),
        ({"region": "OR"}, ["us", "us-wa"], "us-or"),
        ({"region": "Oregon"}, ["gb"], "us-or"),
    ],
)
def test_a_place_of_the_address_that_the_list_leaves_out_is_said(
    address: dict[str, str], places: list[str], place: str
) -> None:
    found = check(LAW, changes={"site.address": address, "site.jurisdictions": places})
    (said,) = [one for one in found.findings if one.rule.startswith("rulebook/places")]
    assert (said.outcome, said.level) == ("cant_tell", "required")
    assert said.message.say("en") == (
        f"The address lies in {place}, which the list of jurisdictions does not name: the rules of that "
        "place were not asked."
    )
    assert found.outcome in ("cant_tell", "not_met")


def test_a_federal_country_without_a_state_leaves_the_states_rules_unasked() -> None:
    changes = {"site.address.region": None, "site.jurisdictions": ["us"]}
    found = check(LAW, changes=changes)
    (said,) = [one for one in found.findings if one.rule == "rulebook/places/state"]
    assert "names no state or province of us" in said.message.say("en")
    assert found.outcome == "cant_tell"


def test_an_address_that_the_list_holds_or_that_names_no_code_is_let_be() -> None:
    here = ({"country": "US", "region": "WA"}, {"region": "WA"}, {"region": "Washington"}, {"region": "W.A."})
    nameless = ({"country": "US", "region": "the far corner"}, {"region": "the far corner"}, {}, None)
    for address in (*here, *nameless):
        found = check(LAW, changes={"site.address": address})
        assert not [one for one in found.findings if one.rule.startswith("rulebook/places")]


def test_letters_that_are_a_state_elsewhere_are_let_be_where_the_place_is_elsewhere() -> None:
    for region, places in (("WA", ["au", "au-wa"]), ("NE", ["ch"])):
        found = check(LAW, changes={"site.address": {"region": region}, "site.jurisdictions": places})
        assert not [one for one in found.findings if one.rule.startswith("rulebook/places")]


def test_a_county_whose_rules_were_not_asked_stands_under_not_checked() -> None:
    said = (
        "The site lies in Quill County; the list of jurisdictions names no county or city: local rules were "
        "not asked."
    )
    assert said in check(LAW).to_json("en")["not_checked"]
    named = check(LAW, changes={"site.jurisdictions": ["us", "us-wa", "us-wa-quill"]})
    assert said not in named.to_json("en")["not_checked"]
    assert said not in check(LAW, changes={"site.county": None}).to_json("en")["not_checked"]


def test_a_day_stood_down_that_states_work_is_no_clean_met() -> None:
    """The worked example, said to be stood down: every law rule then says that nothing was applied."""
    changes = {"record.result": "stood-down"}
    found = check_document(read(patched(load("documents/example.json"), changes)), Context(on="2026-09-15"))
    (said,) = [one for one in found.findings if one.rule == "everywhere/stood-down/nothing-done"]
    assert (found.outcome, said.outcome, said.level) == ("not_met", "not_met", "required")
    assert said.about == ("mixes[0].applied", "mixes[0].surfaces[0].applied", "people[0].tasks")
    (why,) = [one for one in found.findings if one.rule == "everywhere/stood-down/why"]
    assert (why.outcome, why.about) == ("not_met", ("record.why",))
    empty = check_document(read(load("documents/stood-down.json")), Context(on="2026-09-15"))
    assert empty.outcome in ("met", "not_applicable")
