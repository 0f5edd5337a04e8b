"""Whole visits and what was applied: which law a product falls under, what its label allows, whose limit holds.

Each test names its law; how the text was read stands in the sources of the pack that states it.
"""

import pytest

from tests.compliance.checked import by_rule
from tests.compliance.patched import load, patched
from tests.outside.scenario import outcomes, said, visit, worked

PRODUCT = "mixes[0].products[0]"
LIMITS = f"{PRODUCT}.label.limits"
WIND = "wind_speed"
POOL_BLEACH = {
    "name": "Pool bleach",
    "kind": "pesticide",
    "restricted_use": False,
    "amount": {"value": "1.5", "unit": "gal"},
}
ALGAE_BIOCIDE = {
    "name": "Sample Algae Wash",
    "kind": "pesticide",
    "regime": "biocide",
    "restricted_use": False,
    "amount": {"value": "1", "unit": "L"},
}


@pytest.mark.parametrize(
    ("situation", "rule"),
    [
        ("roof-in-september", "us-wa/record/registration-number"),
        ("roof-in-new-york", "us-ny/record/registration-number"),
        ("roof-in-minnesota", "us-mn/record/registration-number"),
        ("roof-in-idaho", "us-id/record/registration-number"),
        ("roof-in-california", "us-ca/record/pesticide"),
    ],
)
def test_pool_bleach_on_moss_has_no_registration_number_to_record(situation, rule):
    """RCW 17.21.100(1)(c); ECL 33-1205(1)(a); Minn. Stat. 18B.37 subd. 2(a)(3); IDAPA 02.03.03.101.01.g; 3 CCR
    6624(b)(6): the EPA registration number. What is used against moss is a pesticide, registered or not."""
    answer = visit(situation, {PRODUCT: POOL_BLEACH})
    finding = said(answer, rule)
    assert (finding["outcome"], finding["level"]) == ("not_met", "required")
    assert finding["about"] == [f"{PRODUCT}.registration_number"]
    assert answer["outcome"] == "not_met"


def test_the_label_of_pool_bleach_that_nobody_entered_is_no_free_pass():
    """7 U.S.C. 136j(a)(2)(G) (from memory): use as the label says. One that is not stated can't be judged."""
    answer = visit("roof-in-september", {PRODUCT: POOL_BLEACH})
    assert outcomes(answer, "label/pool-bleach/") == {"cant_tell"}


@pytest.mark.parametrize("situation", ["roof-in-september", "roof-in-new-york", "roof-in-minnesota"])
def test_a_minimum_risk_product_has_no_number_and_none_is_asked(situation):
    """40 CFR 152.25(f): minimum-risk products are exempt from registration (from memory)."""
    exempt = {f"{PRODUCT}.regime": "exempt", f"{PRODUCT}.registration_number": None}
    place = situation.replace("roof-in-", "")
    code = {"september": "us-wa", "new-york": "us-ny", "minnesota": "us-mn"}[place]
    answer = visit(situation, exempt)
    assert said(answer, f"{code}/record/registration-number")["outcome"] == "not_applicable"


def test_a_product_against_moss_alone_is_not_for_algae_and_that_is_advice():
    """7 U.S.C. 136(ee): a pest that the label does not name, on a site that it names (restated by States)."""
    finding = said(visit("roof-in-september", {"targets": ["mould"]}), "label/99999-12/targets")
    assert (finding["outcome"], finding["level"]) == ("not_met", "advised")


@pytest.mark.parametrize(
    ("sites", "outcome"),
    [(["roof", "walk"], "met"), (["walk", "drive"], "not_met")],
    ids=["named", "not named"],
)
def test_a_roof_is_treated_with_a_product_whose_label_names_roofs(sites, outcome):
    """7 U.S.C. 136j(a)(2)(G) (from memory)."""
    finding = said(visit("roof-in-september", {f"{PRODUCT}.label.sites": sites}), "label/99999-12/sites")
    assert (finding["outcome"], finding["level"]) == (outcome, "required")


@pytest.mark.parametrize("restricted", [False, True])
def test_the_states_record_binds_a_general_use_product_and_the_federal_one_does_not(restricted):
    """RCW 17.21.100(1): pesticides, all. 40 CFR 171.303(b)(7) and 7 U.S.C. 136i-1: restricted use."""
    answer = visit("roof-in-september", {f"{PRODUCT}.restricted_use": restricted})
    assert said(answer, "us-wa/record/product-name")["outcome"] == "met"
    assert said(answer, "us/record/product-name")["outcome"] == ("met" if restricted else "not_applicable")


def test_40_cfr_171_303_is_the_basis_of_a_states_rule_and_no_breach_of_a_firm():
    """40 CFR 171.303(b)(7): what a State's plan must require; the State's own rule binds the firm."""
    answer = visit("restricted-use-roof", {"surfaces[0].treated_area": None})
    basis, own = said(answer, "us/record/area"), said(answer, "us-wa/record/area")
    assert (basis["outcome"], basis["level"]) == ("not_met", "advised")
    assert (own["outcome"], own["level"], own["cite"]) == ("not_met", "required", "RCW 17.21.100(1)(g)")
    assert "binds State plans, not firms" in basis["doubt"]
    nobody = visit("restricted-use-roof", {"people[0].licences[0].number": None})
    assert {one["level"] for one in by_rule(nobody)["us/record/certified-applicator"]} == {"advised"}


def test_the_same_list_is_a_duty_where_the_federal_agency_runs_the_programme_itself():
    """EPA Plan for the Federal Certification of Applicators of Restricted Use Pesticides within Indian Country,
    records of commercial applicators; 40 CFR 171.303(b)(7) is the same list for States."""
    answer = visit("restricted-use-in-indian-country", {"surfaces[0].treated_area": None})
    own = said(answer, "us-indian-country/record/application")
    assert (own["outcome"], own["level"]) == ("not_met", "required")
    assert said(answer, "us/record/area")["level"] == "advised"
    assert said(answer, "us-indian-country/retention/two-years")["keep_until"] == "2028-09-14"
    in_a_state = visit("restricted-use-roof", {"surfaces[0].treated_area": None})
    assert outcomes(in_a_state, "us-indian-country/") == set()


def test_part_110_binds_the_day_before_its_rescission_and_no_longer():
    """90 FR 20083: 7 CFR part 110 rescinded, effective 11 July 2025."""
    unmeasured = {"surfaces[0].treated_area": None, "people[0].licences[0].valid_from": "2025-01-01"}
    last, first = (
        visit("restricted-use-roof", {**unmeasured, **worked(*times)}, {"on": "2025-07-12"})
        for times in (
            ("2025-07-10T09:12:00-07:00", "2025-07-10T09:47:00-07:00"),
            ("2025-07-11T09:12:00-07:00", "2025-07-11T09:47:00-07:00"),
        )
    )
    finding = said(last, "us/part-110/place")
    assert (finding["outcome"], finding["level"]) == ("not_met", "required")
    assert outcomes(first, "us/part-110/") == set()


@pytest.mark.parametrize(("situation", "place"), [("roof-in-the-union", "eu"), ("roof-in-britain", "gb")])
def test_two_products_of_one_visit_fall_under_two_laws(situation, place):
    """Regulation (EC) 1107/2009, art. 67(1), and as retained: the moss killer. Regulation (EU) 528/2012: the
    algae killer, for whose user no general duty of a record was found."""
    nameless = {**ALGAE_BIOCIDE, "name": None}
    answer = visit(situation, {"mixes[0].products[1]": nameless, f"{PRODUCT}.amount": None})
    for rule, of_moss_killer in (("product-name", "met"), ("dose", "not_met")):
        found = by_rule(answer)[f"{place}/record/{rule}"]
        assert [one["outcome"] for one in found] == [of_moss_killer, "not_applicable"]
        assert "does not fall under the law on plant protection products" in found[1]["message"]


def test_a_biocide_alone_on_a_roof_falls_under_no_plant_protection_duty_and_no_all_clear_is_given():
    """Regulation (EC) 1107/2009, art. 67(1): plant protection products only."""
    answer = visit("roof-in-the-union", {PRODUCT: ALGAE_BIOCIDE, "targets": ["algae"]})
    assert outcomes(answer, "eu/") == {"not_applicable"}
    assert answer["outcome"] == "cant_tell"
    assert any("Biocides" in left_out for left_out in answer["not_checked"])


@pytest.mark.parametrize(
    ("kind", "outcome"), [("adjuvant", "not_met"), ("other", "not_applicable")], ids=["adjuvant", "dye"]
)
def test_an_adjuvant_is_a_pesticide_in_washington_with_a_line_of_its_own(kind, outcome):
    """RCW 17.21.020(36)(c): spray adjuvants are pesticides; form AGR 4226, item 8: one line for each."""
    line = {"name": "Sample Spreader", "kind": kind, "regime": "other", "restricted_use": False}
    answer = visit("roof-in-september", {"mixes[0].products[1]": line})
    assert outcome in outcomes(answer, "us-wa/record/adjuvant")


def test_less_than_the_labels_rate_is_advice_and_more_is_a_breach():
    """7 U.S.C. 136(ee): a lower dose is no use against the label, unless the label forbids it (from memory)."""
    rate = {"of": "coverage", "min": {"value": "1.1", "unit": "gal/(100 ft**2)"}}
    less = visit("roof-in-september", {f"{LIMITS}[1]": rate})
    finding = said(less, "label/99999-12/coverage_min")
    assert (finding["outcome"], finding["level"]) == ("not_met", "advised")
    assert less["outcome"] == "met"
    most = {"of": "coverage", "max": {"value": "1.0", "unit": "gal/(100 ft**2)"}}
    more = visit("roof-in-september", {f"{LIMITS}[1]": most})
    finding = said(more, "label/99999-12/coverage")
    assert (finding["outcome"], finding["level"]) == ("not_met", "required")


@pytest.mark.parametrize(
    ("wind", "first", "second"),
    [("8.9", "met", "met"), ("9", "met", "not_met"), ("10.1", "not_met", "not_met")],
)
def test_of_two_labels_in_one_tank_the_stricter_wind_decides(wind, first, second):
    """7 U.S.C. 136j(a)(2)(G) (from memory): each label binds. 4 m/s are 8.948 mph, less than 10 mph."""
    other = {
        **load("facts/roof-in-september.json")["mixes"][0]["products"][0],
        "registration_number": "99999-34",
    }
    changes = {
        "mixes[0].products[1]": {**other, "name": "Sample Lichen Wash"},
        "mixes[0].products[1].label.limits[0].max": {"value": "4", "unit": "m/s"},
        "weather.readings[0].wind_speed": {"value": wind, "unit": "mph"},
    }
    answer = visit("roof-in-september", changes)
    assert said(answer, "label/99999-12/wind_speed")["outcome"] == first
    assert said(answer, "label/99999-34/wind_speed")["outcome"] == second
    assert answer["outcome"] == second
    assert [
        (one["max"]["value"], one["set_by"]["cite"]) for one in answer["limits"] if one["quantity"] == WIND
    ] == [
        ("10", "label of Sample Moss Wash, 2025-03"),
        ("4", "label of Sample Lichen Wash, 2025-03"),
    ]


@pytest.mark.parametrize(
    ("allowed", "in_force"),
    [
        ("8", [("8", "label", "required")]),
        ("15", [("10", "law", "advised"), ("15", "label", "required")]),
    ],
)
def test_the_strictest_of_law_and_label_is_in_force_and_an_advised_one_hides_no_duty(allowed, in_force):
    """IDAPA 02.03.03.400 (restated, so advice): 10 mph, or the label's limit, whichever is stricter."""
    answer = visit("roof-in-idaho", {f"{LIMITS}[0].max": {"value": allowed, "unit": "mph"}})
    limits = [one for one in answer["limits"] if one["quantity"] == WIND and one["for"] == PRODUCT]
    found = [(one["max"]["value"], one["set_by"]["layer"], one["level"]) for one in limits]
    assert found == in_force


@pytest.mark.parametrize(
    ("last", "outcome"), [("2026-08-15", "met"), ("2026-08-16", "not_met")], ids=["30 days", "29 days"]
)
def test_the_labels_days_between_two_treatments_are_counted_on_the_same_surface(last, outcome):
    """7 U.S.C. 136j(a)(2)(G) (from memory): the label asks for 30 days."""
    earlier = patched(
        load("facts/roof-in-september.json"),
        {
            **worked(f"{last}T09:12:00-07:00", f"{last}T09:47:00-07:00"),
            "record.id": "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b99",
        },
    )
    answer = visit("roof-in-september", {}, {"earlier": [earlier]})
    assert said(answer, "label/99999-12/days_between")["outcome"] == outcome


def test_a_minimum_above_a_maximum_leaves_no_lawful_value_and_says_so():
    """7 U.S.C. 136j(a)(2)(G) (from memory): both bounds of the labels bind."""
    answer = visit("roof-in-september", {f"{LIMITS}[5]": {"of": WIND, "min": {"value": "12", "unit": "mph"}}})
    finding = said(answer, "rulebook/no-lawful-value/wind-speed")
    assert (finding["outcome"], finding["level"]) == ("not_met", "required")
    assert finding["message"].endswith("No value is lawful: do not start.")


def test_a_product_of_no_stated_regime_is_not_excused_from_any_law():
    """Regulation (EC) 1107/2009: whether a line falls under it must be stated; else nobody can tell."""
    answer = visit("roof-in-the-union", {f"{PRODUCT}.regime": None})
    assert "cant_tell" in outcomes(answer, "eu/record/")
    assert "not_applicable" not in outcomes(answer, "eu/record/product-name")


@pytest.mark.parametrize("nothing", [{"mixes": []}, {"mixes": None}, {"mixes[0].products": []}])
def test_a_treatment_of_which_no_product_is_stated_falls_under_no_exception(nothing):
    """Retained Regulation (EC) 1107/2009, art. 67(1): what was applied decides; nobody stated what it was."""
    answer = visit("roof-in-britain", nothing)
    assert answer["outcome"] == "cant_tell"
    assert outcomes(answer, "gb/record/") == {"cant_tell"}
