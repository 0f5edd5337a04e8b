"""Whole visits and the licences of those who made them: own ones, valid there that day, or their supervisor's.

Each test names its law; how the text was read stands in the sources of the pack that states it.
"""

import pytest

from tests.compliance.checked import by_rule
from tests.outside.scenario import answer_to, said, visit, worked

HELPER = "people[1]"
CERTIFIED = "us/restricted-use/certified"
OPERATOR = "us-wa/licence/operator"


def of_person(answer, rule, number):
    """The finding of a rule on one person."""
    [finding] = [one for one in by_rule(answer)[rule] if one["about"][0].startswith(f"people[{number}]")]
    return finding


@pytest.mark.parametrize(
    ("start", "end", "outcome"),
    [
        ("2026-09-14T23:20:00-07:00", "2026-09-14T23:50:00-07:00", "met"),
        ("2026-09-15T00:10:00-07:00", "2026-09-15T00:40:00-07:00", "not_met"),
        ("2026-09-15T06:20:00+00:00", "2026-09-15T06:50:00+00:00", "met"),
        ("2026-09-14T23:50:00-07:00", "2026-09-15T00:40:00-07:00", "cant_tell"),
    ],
    ids=["done before midnight", "begun after", "done before midnight, written in UTC", "over midnight"],
)
def test_a_licence_that_ends_at_midnight_serves_work_before_it_and_none_after(start, end, outcome):
    """RCW 17.21.070 and 17.21.110: licensed when applying. The last day printed on it counts whole, on the
    clock of the site."""
    ends = {"people[0].licences[0].valid_to": "2026-09-14", "firm.licences[0].valid_to": "2026-09-14"}
    night = worked(start, end)
    answer = visit("roof-in-september", {**night, **ends}, {"on": "2026-09-16"})
    assert said(answer, OPERATOR)["outcome"] == outcome
    assert said(answer, "us-wa/licence/commercial-applicator")["outcome"] == outcome
    if outcome == "not_met":
        assert "2026-09-14" in said(answer, OPERATOR)["message"]


def test_a_licence_does_not_serve_the_day_before_it_begins():
    """RCW 17.21.110."""
    later = {"people[0].licences[0].valid_from": "2026-09-15"}
    assert said(visit("roof-in-september", later), OPERATOR)["outcome"] == "not_met"


def test_the_licence_of_another_state_is_none_here():
    """RCW 17.21.110: a licence of the department of this state."""
    finding = said(visit("roof-in-september", {"people[0].licences[0].authority": "us-or"}), OPERATOR)
    assert (finding["outcome"], finding["level"]) == ("not_met", "required")


@pytest.mark.parametrize(
    ("supervised_by", "supervision", "federal", "state"),
    [
        (None, None, "not_met", "not_met"),
        ("R. Osei", "by-phone", "met", "not_met"),
        ("R. Osei", "on-site", "met", "not_met"),
        ("R. Osei", "in-sight", "met", "met"),
    ],
    ids=["alone", "supervisor on the telephone", "supervisor on the site", "supervisor in sight"],
)
def test_a_helper_alone_may_not_apply_a_restricted_use_product(supervised_by, supervision, federal, state):
    """40 CFR 171.1(b) and 7 U.S.C. 136(e)(4): a certified applicator available if and when needed. RCW
    17.21.020(13): present, with voice and visual contact throughout."""
    led = {f"{HELPER}.supervised_by": supervised_by, f"{HELPER}.supervision": supervision}
    answer = visit("restricted-use-roof", led)
    assert of_person(answer, CERTIFIED, 1)["outcome"] == federal
    assert of_person(answer, OPERATOR, 1)["outcome"] == state
    assert of_person(answer, CERTIFIED, 1)["level"] == "required"
    assert answer["outcome"] == ("met" if state == "met" else "not_met")


def test_a_supervisor_whose_own_certificate_has_run_out_is_none():
    """40 CFR 171.1(b); 7 U.S.C. 136(e)(4)."""
    answer = visit("restricted-use-roof", {"people[0].licences[0].valid_to": "2026-09-13"})
    assert of_person(answer, CERTIFIED, 1)["outcome"] == "not_met"


def test_a_helper_alone_on_a_general_use_job_is_the_states_matter_and_not_the_federal_ones():
    """40 CFR 171.1: restricted use only. RCW 17.21.110: any pesticide."""
    alone = {
        f"{HELPER}.supervised_by": None,
        f"{HELPER}.supervision": None,
        "mixes[0].products[0].restricted_use": False,
    }
    answer = visit("restricted-use-roof", alone)
    assert {one["outcome"] for one in by_rule(answer)[CERTIFIED]} == {"not_applicable"}
    assert of_person(answer, OPERATOR, 1)["outcome"] == "not_met"


def test_a_helper_who_holds_the_hose_and_does_not_spray_needs_no_licence():
    """RCW 17.21.110 binds who applies pesticides."""
    answer = visit("restricted-use-roof", {f"{HELPER}.tasks": ["hose"], f"{HELPER}.supervised_by": None})
    found = {one["outcome"] for one in by_rule(answer)[OPERATOR]}
    assert found == {"met", "not_applicable"}


@pytest.mark.parametrize(
    ("changes", "outcome"),
    [
        ({}, "met"),
        ({"people[0].licences[0].valid_to": None}, "cant_tell"),
        ({"people[0].licences": []}, "not_met"),
        ({"people[0].licences": [], "mixes[0].products[0].regime": "biocide"}, "not_applicable"),
    ],
    ids=["certificate", "no last day printed on it", "none", "none, with a biocide"],
)
def test_britain_wants_a_certificate_for_plant_protection_and_not_for_a_biocide(changes, outcome):
    """Plant Protection Products (Sustainable Use) Regulations 2012 (S.I. 2012/1657), reg. 8 (restated)."""
    assert said(visit("roof-in-britain", changes), "gb/licence/certificate")["outcome"] == outcome


@pytest.mark.parametrize(
    ("answers", "outcome", "level"),
    [
        ([], "cant_tell", "advised"),
        ([answer_to("ca-bc/question/excluded", "no")], "not_met", "required"),
        ([answer_to("ca-bc/question/excluded", "yes")], "not_applicable", "required"),
        ([answer_to("ca-bc/question/excluded", "no", valid_to="2026-09-13")], "cant_tell", "advised"),
        ([answer_to("ca-bc/question/excluded", "no", valid_to="2026-09-14")], "not_met", "required"),
    ],
    ids=["unanswered", "no", "yes", "an answer that ended the day before", "one that ends that day"],
)
def test_british_columbias_licence_hangs_on_whether_the_products_are_excluded(answers, outcome, level):
    """IPM Regulation (B.C. Reg. 604/2004), s. 5 and Schedule 2: excluded pesticides need none (restated)."""
    answer = visit("roof-in-british-columbia", {"firm.licences": []}, {"determinations": answers})
    finding = said(answer, "ca-bc/licence/user")
    assert (finding["outcome"], finding["level"]) == (outcome, level)


def test_a_trainee_in_minnesota_has_no_exception_that_anybody_read():
    """Minn. Stat. 18B.33 subd. 1(a): no person without a commercial applicator license (version of 2006)."""
    helper = {
        "people[1]": {
            "name": "T. Abara",
            "role": "helper",
            "licences": [],
            "tasks": ["sprayed"],
            "supervised_by": "R. Osei",
            "supervision": "in-sight",
        }
    }
    finding = of_person(visit("roof-in-minnesota", helper), "us-mn/licence/applicator", 1)
    assert (finding["outcome"], finding["level"]) == ("not_met", "required")
    assert "supervised helper" in finding["doubt"]
