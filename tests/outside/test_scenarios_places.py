"""Whole visits and where they were made: which law covers the place, what it counts as, what lies near.

Each test names its law; how the text was read stands in the sources of the pack that states it.
"""

import pytest

from tests.compliance.checked import by_rule
from tests.compliance.patched import load
from tests.outside.scenario import answer_to, outcomes, said, visit, worked

SIGN = {
    "where": "front walk",
    "width": {"value": "5", "unit": "inch"},
    "height": {"value": "4", "unit": "inch"},
}


def feature(kind, distance, unit="m", **more):
    return {"kind": kind, "name": f"the {kind}", "distance": {"value": distance, "unit": unit}, **more}


@pytest.mark.parametrize(
    ("distance", "unit", "outcome"),
    [
        ("29", "m", "not_met"),
        ("30", "m", "met"),
        ("31", "m", "met"),
        ("98.4", "ft", "not_met"),
        ("98.5", "ft", "met"),
    ],
)
def test_a_well_lies_thirty_metres_off_or_its_zone_is_treated(distance, unit, outcome):
    """IPM Regulation (B.C. Reg. 604/2004), s. 71(3): 30 m around a well or intake for domestic or farm use. It
    may be shrunk under s. 71(4), so it stays advice. 30 m are 98.43 ft (NIST SP 811, B.8)."""
    answer = visit(
        "roof-in-british-columbia", {"site.features": [feature("well", distance, unit)], "protection": []}
    )
    finding = said(answer, "ca-bc/limit/well")
    assert (finding["outcome"], finding["level"]) == (outcome, "advised")
    assert finding["cite"] == "IPM Regulation, s. 71(3)"
    assert finding["bound"] == {"value": "30", "unit": "m"}


def test_a_well_whose_distance_nobody_measured_leaves_the_zone_open():
    """IPM Regulation (B.C. Reg. 604/2004), s. 71(3)."""
    unmeasured = {"kind": "well", "name": "the well"}
    answer = visit("roof-in-british-columbia", {"site.features": [unmeasured], "protection": []})
    assert said(answer, "ca-bc/limit/well")["outcome"] == "cant_tell"


@pytest.mark.parametrize(
    ("steps", "outcome"),
    [
        ([], "not_met"),
        ([{"step": "ponds-covered", "features": ["the pond"]}], "met"),
        ([{"step": "ponds-covered", "features": ["the stream"]}], "not_met"),
    ],
    ids=["open", "covered", "something else covered"],
)
def test_a_pond_under_the_eaves_is_covered_as_good_practice(steps, outcome):
    """Common practice, no source: no text was found that makes it a duty of a firm."""
    water = {"site.features": [feature("pond", "0"), feature("stream", "80")], "protection": steps}
    finding = said(visit("roof-in-september", water), "us/protection/ponds")
    assert (finding["outcome"], finding["level"]) == (outcome, "advised")


@pytest.mark.parametrize(
    ("distance", "outcome"),
    [("0", "not_met"), ("24.9", "not_met"), ("25", "met")],
    ids=["over it", "near", "off"],
)
def test_a_roof_over_a_pond_breaks_a_label_that_keeps_25_feet_from_water(distance, outcome):
    """7 U.S.C. 136j(a)(2)(G) (from memory): the label's buffer is a duty, covered pond or not."""
    changes = {
        "site.features": [feature("pond", distance, "ft")],
        "protection": [{"step": "ponds-covered"}],
        "mixes[0].products[0].label.limits[5]": {"of": "buffer", "min": {"value": "25", "unit": "ft"}},
    }
    answer = visit("roof-in-september", changes)
    finding = said(answer, "label/99999-12/buffer")
    assert (finding["outcome"], finding["level"]) == (outcome, "required")
    assert answer["outcome"] == outcome


# (state, kind of surface, the open question with its answer, whether a sign is due; the law in the docstring)
SIGNS = [
    ("new-york", "roof", None, "not_applicable"),
    ("new-york", "walk", None, "cant_tell"),
    ("new-york", "walk", ("us-ny/question/ground", "yes"), "not_met"),
    ("new-york", "walk", ("us-ny/question/ground", "no"), "not_applicable"),
    ("new-york", "lawn", None, "not_met"),
    ("colorado", "roof", None, "not_applicable"),
    ("colorado", "drive", None, "cant_tell"),
    ("colorado", "drive", ("us-co/question/moss-as-weed", "yes"), "not_met"),
    ("wisconsin", "roof", None, "not_applicable"),
    ("wisconsin", "lawn", None, "not_met"),
    ("maryland", "roof", None, "not_applicable"),
    ("maryland", "walk", None, "not_applicable"),
    ("maryland", "lawn", None, "not_met"),
    ("connecticut", "roof", None, "not_met"),
    ("connecticut", "walk", None, "not_met"),
    ("florida", "roof", None, "not_applicable"),
    ("florida", "lawn", None, "not_met"),
    ("september", "roof", None, "cant_tell"),
    ("september", "roof", ("us-wa/question/structural-application", "yes"), "not_applicable"),
    ("september", "roof", ("us-wa/question/structural-application", "no"), "not_met"),
    ("september", "walk", ("us-wa/question/structural-application", "yes"), "cant_tell"),
    ("september", "walk", ("us-wa/question/paved-ground", "yes"), "not_met"),
    ("september", "lawn", ("us-wa/question/structural-application", "yes"), "not_met"),
]
RULES = {
    "new-york": "us-ny/posting/markers",
    "colorado": "us-co/posting/sign",
    "wisconsin": "us-wi/posting/landscape",
    "maryland": "us-md/posting/lawn",
    "connecticut": "us-ct/posting/sign",
    "florida": "us-fl/posting/lawn",
    "september": "us-wa/posting/marker",
}


@pytest.mark.parametrize(("state", "kind", "answer", "outcome"), SIGNS)
def test_a_roof_is_no_lawn_but_a_walk_may_be_and_one_state_asks_for_a_sign_at_both(
    state, kind, answer, outcome
):
    """ECL 33-1003; C.R.S. 35-10-112(2); Wis. Admin. Code ATCP 29.56(3); Md. Code, Agriculture 5-208(c); C.G.S.
    22a-66a(c): any pesticide outdoors; F.S. 482.2265: not the outside of a structure; RCW 17.21.410 and
    17.21.020(28): a landscape application, which is no commercial applicator's structural one."""
    given = {"determinations": [answer_to(*answer)]} if answer else {}
    checked = visit(f"roof-in-{state}", {"surfaces[0].kind": kind, "postings": []}, given)
    finding = said(checked, RULES[state])
    assert finding["outcome"] == outcome
    assert finding["level"] == ("advised" if outcome == "cant_tell" else "required")


@pytest.mark.parametrize(
    ("width", "height", "unit", "outcome"),
    [
        ("5", "4", "inch", "met"),
        ("4", "5", "inch", "not_met"),
        ("5", "3.9", "inch", "not_met"),
        ("12.7", "10.16", "cm", "met"),
        ("12.6", "10.16", "cm", "not_met"),
    ],
)
def test_a_sign_is_at_least_as_large_as_the_law_wants(width, height, unit, outcome):
    """R.C.S.A. 22a-66a-1(b)(7)(A): 4 in high, 5 in wide (restated). NIST SP 811, B.8: 1 in = 2.54 cm."""
    sides = {"width": {"value": width, "unit": unit}, "height": {"value": height, "unit": unit}}
    sign = {**SIGN, **sides, "posted_at": "2026-09-14T08:45:00-04:00"}
    answer = visit("roof-in-connecticut", {"postings": [sign]})
    assert said(answer, "us-ct/posting/sign")["outcome"] == outcome


@pytest.mark.parametrize(
    ("letters", "unit", "outcome"),
    [
        ("0.375", "inch", "met"),
        ("0.37", "inch", "not_met"),
        ("9.525", "mm", "met"),
        ("9.5", "mm", "not_met"),
    ],
)
def test_a_marker_whose_letters_are_too_small_is_none_however_large_it_is(letters, unit, outcome):
    """ECL 33-1003: letters at least three eighths of an inch high. They are 9.525 mm (NIST SP 811, B.8)."""
    sign = {**SIGN, "posted_at": "2026-09-14T08:45:00-04:00", "letters": {"value": letters, "unit": unit}}
    answer = visit("roof-in-new-york", {"surfaces[0].kind": "lawn", "postings": [sign]})
    finding = said(answer, "us-ny/posting/letters")
    assert (finding["outcome"], finding["level"]) == (outcome, "required")
    if outcome == "not_met":
        assert finding["observed"] == {"value": letters, "unit": unit}
        assert finding["bound"] == {"value": "0.375", "unit": "inch"}
        assert finding["message"].endswith("Put up a sign with larger letters.")


@pytest.mark.parametrize(
    ("letters", "outcome"), [("0.5", "met"), ("0.49", "not_met")], ids=["half an inch", "less"]
)
def test_new_jerseys_words_stand_in_letters_of_half_an_inch(letters, outcome):
    """N.J.A.C. 7:30-9.13(e): "Pesticide Treated Area" in letters of at least one-half inch."""
    sign = {"postings[0].letters": {"value": letters, "unit": "inch"}, "surfaces[0].kind": "lawn"}
    assert said(visit("roof-in-new-jersey", sign), "us-nj/posting/letters")["outcome"] == outcome


@pytest.mark.parametrize(
    ("removed_at", "outcome"),
    [("2026-09-15T09:47:00-04:00", "met"), ("2026-09-15T09:46:00-04:00", "not_met")],
    ids=["24 hours after", "a minute less"],
)
def test_a_sign_stays_for_24_hours_after_the_work(removed_at, outcome):
    """C.G.S. 22a-66a(c); R.C.S.A. 22a-66a-1(b)(7)(A): for 24 hours after pesticide application (restated)."""
    posted = {"postings": [{**SIGN, "posted_at": "2026-09-14T08:45:00-04:00"}]}
    removed = {"follow_ups": [{"schema": "follow-up/1", "kind": "sign-removed", "at": removed_at}]}
    finding = said(visit("roof-in-connecticut", posted, {**removed, "on": "2026-09-16"}), "us-ct/posting/sign")
    assert finding["outcome"] == outcome


@pytest.mark.parametrize(
    ("posted_at", "outcome"),
    [("2026-09-14T09:12:00-04:00", "met"), ("2026-09-14T09:13:00-04:00", "not_met")],
    ids=["at the start", "a minute into the work"],
)
def test_new_yorks_markers_stand_before_the_start(posted_at, outcome):
    """6 NYCRR 325.40(h): before the application (restated)."""
    lawn = {"surfaces[0].kind": "lawn", "postings": [{**SIGN, "posted_at": posted_at}]}
    assert said(visit("roof-in-new-york", lawn), "us-ny/posting/markers")["outcome"] == outcome


def test_without_jurisdictions_nobody_can_tell_which_law_applies():
    """No law: without a place there is none."""
    for places in (None, []):
        answer = visit("roof-in-september", {"site.jurisdictions": places})
        assert answer["outcome"] == "cant_tell"
        assert said(answer, "rulebook/places")["outcome"] == "cant_tell"
        assert outcomes(answer, "us-wa/") == set()


@pytest.mark.parametrize(
    ("address", "places", "missing"),
    [
        ({"site.address.region": "TX"}, ["us", "us-tx"], ["us-tx"]),
        ({"site.address.region": "ON", "site.address.country": "CA"}, ["ca", "ca-on"], ["ca", "ca-on"]),
        ({"site.address.region": None, "site.address.country": "NO"}, ["no"], ["no"]),
    ],
    ids=["Texas", "Ontario", "Norway"],
)
def test_a_place_without_a_pack_is_named_and_gives_no_all_clear(address, places, missing):
    """The law of Texas; O. Reg. 63/09; the law of Norway: no pack states them."""
    answer = visit("roof-in-september", {**address, "site.jurisdictions": places})
    assert answer["not_covered"] == missing
    assert answer["outcome"] == "cant_tell"
    assert any(missing[-1] in one for one in answer["not_checked"])


def test_a_county_without_a_pack_is_named_and_does_not_undo_what_is_covered():
    """No county's law on wash water or runoff is stated here."""
    answer = visit("roof-in-september", {"site.jurisdictions": ["us", "us-wa", "us-wa-king"]})
    assert answer["not_covered"] == ["us-wa-king"]
    assert answer["outcome"] == "met"


def test_a_country_named_alone_leaves_the_states_law_unasked_and_says_so():
    """40 CFR 171.303: most of a hired applicator's duties are the State's."""
    answer = visit("roof-in-september", {"site.jurisdictions": ["us"], "site.address.region": None})
    assert answer["outcome"] == "cant_tell"
    assert [one["rule"] for one in answer["findings"] if one["rule"].startswith("rulebook/")] == [
        "rulebook/places/state"
    ]


def test_an_address_in_one_state_and_the_law_of_another_do_not_go_together():
    """No law: the record contradicts itself."""
    answer = visit("roof-in-september", {"site.jurisdictions": ["us", "us-or"]})
    assert said(answer, "rulebook/places/address")["outcome"] == "cant_tell"


@pytest.mark.parametrize(
    ("kept_apart", "outcome"), [(True, "not_applicable"), (False, "not_met")], ids=["indoors", "outdoors"]
)
def test_connecticuts_sign_is_for_work_outdoors(kept_apart, outcome):
    """C.G.S. 22a-66a(c): outdoors, within 100 yards of a property line (restated)."""
    answer = visit("roof-in-connecticut", {"site.indoors": kept_apart, "postings": []})
    assert said(answer, "us-ct/posting/sign")["outcome"] == outcome


def test_downspouts_and_storm_drains_left_open_are_advice_and_no_breach():
    """Municipal guidance on wash water and roof moss: good practice, unless label or local code demands it."""
    answer = visit("roof-in-september", {"protection": []})
    for rule in ("us/protection/downspouts", "us/protection/storm-drains"):
        [finding] = by_rule(answer)[rule]
        assert (finding["outcome"], finding["level"]) == ("not_met", "advised")
    assert answer["outcome"] == "met"


def test_a_step_that_the_label_demands_is_a_duty():
    """7 U.S.C. 136j(a)(2)(G) (from memory)."""
    demands = {"mixes[0].products[0].label.protection": ["storm-drains-covered"], "protection": []}
    answer = visit("roof-in-september", demands)
    finding = said(answer, "label/99999-12/protection")
    assert (finding["outcome"], finding["level"]) == ("not_met", "required")
    assert answer["outcome"] == "not_met"


NAMED = {"authority": "de-by", "number": "SAMPLE-12-2"}
BAVARIAN = {
    **NAMED,
    "surfaces": ["drive"],
    "valid_from": "2026-09-01",
    "valid_to": "2026-09-14",
}


@pytest.mark.parametrize(
    ("named", "known", "outcome"),
    [
        ([], [BAVARIAN], "not_met"),
        ([NAMED], [BAVARIAN], "met"),
        ([NAMED], [{**BAVARIAN, "valid_to": "2026-09-13"}], "not_met"),
        ([NAMED], [{**BAVARIAN, "surfaces": ["walk"]}], "not_met"),
        ([NAMED], [], "cant_tell"),
        ([{**NAMED, "authority": "ch"}], [BAVARIAN], "not_met"),
    ],
    ids=["none", "on its last day", "ended", "for a walk", "unknown", "of another country"],
)
def test_a_drive_in_germany_takes_a_moss_killer_only_with_a_permit_for_it(named, known, outcome):
    """PflSchG § 12(2): barred on paved open ground, unless the competent authority of the State permits it."""
    answer = visit("drive-in-germany", {"permits": named}, {"permits": known})
    finding = said(answer, "de/permission/paved-ground")
    assert (finding["outcome"], finding["level"], finding["cite"]) == (outcome, "required", "PflSchG § 12(2)")


def test_in_germany_the_law_of_the_union_applies_beside_the_national_one():
    """Regulation (EC) No 1107/2009, art. 67(1); PflSchG § 12(2)."""
    answer = visit("drive-in-germany")
    assert {"eu", "de"} <= {pack["pack"] for pack in answer["packs"]}
    assert said(answer, "eu/record/authorisation-number")["outcome"] == "met"


@pytest.mark.parametrize("day", ["2020-11-30", "2020-12-01"])
def test_a_swiss_roof_takes_no_algae_killer_from_the_first_of_december_2020_on(day):
    """ChemRRV (SR 814.81), annex 2.4 no. 4bis, in force on 1 December 2020."""
    moved = worked(f"{day}T09:12:00+01:00", f"{day}T09:47:00+01:00")
    answer = visit("roof-in-switzerland", {**moved, "targets": ["algae"]}, {"on": "2020-12-02"})
    found = [finding["outcome"] for finding in by_rule(answer).get("ch/permission/biocides", [])]
    assert found == ([] if day == "2020-11-30" else ["not_met"])


def test_a_country_of_which_two_bans_are_stated_gets_no_all_clear_when_they_are_kept():
    """ChemRRV (SR 814.81), annex 2.4 no. 4bis and 2.5 no. 1.1(2): licences, records and waters are left out."""
    answer = visit("roof-in-switzerland", {"surfaces[0].kind": "wall"})
    assert (answer["not_covered"], answer["outcome"]) == (["ch"], "cant_tell")
    assert "Only a part of the law of ch was checked, which gives no all-clear." in answer["not_checked"]


def test_a_swiss_wall_is_not_among_the_surfaces_that_the_ban_names():
    """ChemRRV (SR 814.81), annex 2.4 no. 4bis: roofs, terraces, storage yards, roads, paths, squares, banks."""
    answer = visit("roof-in-switzerland", {"surfaces[0].kind": "wall"})
    assert said(answer, "ch/permission/biocides")["outcome"] == "not_applicable"


def test_one_visit_under_two_laws_is_judged_line_by_line():
    """PflSchG § 12(2) binds the moss killer on the drive; the biocide that takes algae off the wall falls under
    Regulation (EU) No 528/2012, and ChemRRV annex 2.4 no. 4bis and 2.5 no. 1.1(2) bar both on a Swiss roof."""
    mixes = load("facts/drive-in-germany.json")["mixes"]
    biocide = {**mixes[0]["products"][0], "name": "Sample Algae Wash", "regime": "biocide"}
    wall = {"name": "North wall", "kind": "wall", "treated_area": {"value": "40", "unit": "m**2"}}
    on_wall = {**mixes[0], "products": [biocide], "surfaces": [{"surface": "North wall"}]}
    both = {"surfaces[1]": wall, "mixes": [*mixes, on_wall], "permits": []}
    answer = visit("drive-in-germany", {**both, "targets": ["algae", "moss"]})
    assert [finding["outcome"] for finding in by_rule(answer)["de/permission/paved-ground"]] == [
        "not_met",
        "not_applicable",
    ]
    assert outcomes(answer, "de/permission/other-products") == {"not_applicable"}

    line = load("facts/roof-in-switzerland.json")["mixes"][0]["products"][0]
    moss_killer = {**line, "name": "Sample Moss Killer", "regime": "plant-protection"}
    answer = visit("roof-in-switzerland", {"mixes[0].products[1]": moss_killer})
    barred = {
        (finding["rule"], finding["about"][1])
        for finding in answer["findings"]
        if finding["rule"].startswith("ch/permission/") and finding["outcome"] == "not_met"
    }
    assert barred == {
        ("ch/permission/biocides", "mixes[0].products[0].regime"),
        ("ch/permission/plant-protection", "mixes[0].products[1].regime"),
    }
