"""Whole visits and who had to be told of them, on both sides of each line that the law draws.

Each test names its law; how the text was read stands in the sources of the pack that states it.
"""

import pytest

from tests.compliance.checked import by_rule
from tests.outside.scenario import answer_to, notice, outcomes, person, said, visit, worked

LAWN_IN_NASSAU = {
    "site.county": "Nassau County",
    "site.jurisdictions": ["us", "us-ny", "us-ny-nassau"],
    "surfaces[0].kind": "lawn",
    "mixes[0].products[0].label.sites": ["roof", "lawn"],
}
NEIGHBORS = "us-ny/notice/neighbors"
START = "2026-09-14T09:12:00-04:00"


def told(sent_at, planned_at=START, **more):
    """Notice to one neighbour in both languages that the statute wants."""
    return [notice("neighbour", sent_at, planned_at, language=language, **more) for language in ("en", "es")]


def nassau(notices, *, distance="40", **changes):
    return visit(
        "roof-in-new-york",
        {**LAWN_IN_NASSAU, "notices": notices, **changes},
        {"neighbours": [person(distance)]},
    )


@pytest.mark.parametrize(
    ("sent_at", "outcome"),
    [("2026-09-12T10:12:00-04:00", "not_met"), ("2026-09-12T09:12:00-04:00", "met")],
    ids=["47 hours", "48 hours"],
)
def test_a_neighbor_is_told_48_hours_before_and_not_47(sent_at, outcome):
    """ECL 33-1004(1)(b)(i): written notice at least forty-eight hours before a commercial lawn application."""
    finding = said(nassau(told(sent_at)), NEIGHBORS)
    assert (finding["outcome"], finding["level"]) == (outcome, "required")
    assert finding["cite"] == "ECL 33-1004(1)(b)(i); 33-1005*2(3)"


def test_a_notice_of_47_hours_says_from_when_on_it_serves_and_what_to_do():
    """ECL 33-1004(1)(b)(i)."""
    finding = said(nassau(told("2026-09-12T10:12:00-04:00")), NEIGHBORS)
    assert finding["observed"] == {"value": "47", "unit": "hour"}
    assert finding["bound"] == {"value": "48", "unit": "hour"}
    assert "told 2026-09-12 10:12, 47 h before the start" in finding["message"]
    assert "serves a start from 2026-09-14 10:12 on" in finding["message"]
    assert finding["message"].endswith("Give a new notice and come back 48 hours later.")


@pytest.mark.parametrize(
    ("sent_at", "start", "finish", "outcome"),
    [
        ("2026-03-07T09:12:00-05:00", "2026-03-09T09:12:00-04:00", "2026-03-09T09:47:00-04:00", "not_met"),
        ("2026-03-07T08:12:00-05:00", "2026-03-09T09:12:00-04:00", "2026-03-09T09:47:00-04:00", "met"),
        ("2026-10-31T10:12:00-04:00", "2026-11-02T09:12:00-05:00", "2026-11-02T09:47:00-05:00", "met"),
        ("2026-10-31T10:13:00-04:00", "2026-11-02T09:12:00-05:00", "2026-11-02T09:47:00-05:00", "not_met"),
    ],
    ids=[
        "spring, same clock time is 47 h",
        "spring, 48 h",
        "autumn, 47 h on the clock are 48",
        "autumn, a minute less",
    ],
)
def test_48_hours_across_the_change_of_the_clock_are_hours_that_passed(sent_at, start, finish, outcome):
    """ECL 33-1004(1)(b)(i); 15 U.S.C. 260a(a): from 2 a.m. on the second Sunday of March (8 March 2026) to the
    first of November (1 November 2026) (from memory)."""
    answer = nassau(told(sent_at, start), **worked(start, finish))
    assert said(answer, NEIGHBORS)["outcome"] == outcome


@pytest.mark.parametrize(
    ("named", "alternates", "outcome"),
    [
        ("2026-09-11T09:00:00-04:00", ["2026-09-12", "2026-09-14"], "met"),
        ("2026-09-10T09:00:00-04:00", ["2026-09-11", "2026-09-12"], "not_met"),
        ("2026-09-10T09:00:00-04:00", ["2026-09-11", "2026-09-12", "2026-09-14"], "not_met"),
    ],
    ids=["on the second alternate", "on none of its days", "a third alternate does not count"],
)
def test_a_notice_holds_for_its_day_and_two_alternates_and_then_is_stale(named, alternates, outcome):
    """ECL 33-1005*2(3)(a): the date, and two alternative dates for weather. That it holds for these days only
    is a reading of the paragraph."""
    notices = told("2026-09-07T09:00:00-04:00", named, alternate_dates=alternates)
    finding = said(nassau(notices), NEIGHBORS)
    assert finding["outcome"] == outcome
    if outcome == "not_met":
        days = "September 10, 2026, September 11, 2026, September 12, 2026"
        assert f"the notice is stale: it names {days}" in finding["message"]
        assert "Tell them again with the new date." in finding["message"]


@pytest.mark.parametrize(
    "alternates", [[], ["2026-09-15"], ["2026-09-15", "2026-09-15"], ["2026-09-01", "2026-09-02"]]
)
def test_a_notice_without_two_alternate_dates_to_come_is_not_enough(alternates):
    """ECL 33-1005*2(3)(a): the date, and two alternative dates for weather. That they are different ones and
    come after the notice is a reading of the paragraph."""
    finding = said(nassau(told("2026-09-11T09:12:00-04:00", alternate_dates=alternates)), NEIGHBORS)
    assert finding["outcome"] == "not_met"
    assert "asks for 2" in finding["message"]


def test_a_notice_in_english_alone_is_not_enough():
    """ECL 33-1005*2(3)(c): English and Spanish (amendment of 2020)."""
    english = told("2026-09-11T09:12:00-04:00")[:1]
    finding = said(nassau(english), NEIGHBORS)
    assert finding["outcome"] == "not_met"
    assert "Spanish" in finding["message"]


@pytest.mark.parametrize(
    ("distance", "outcome"), [("150", "not_met"), ("150.1", "not_applicable")], ids=["150 ft", "150.1 ft"]
)
def test_a_neighbor_is_told_within_150_feet_and_not_beyond(distance, outcome):
    """ECL 33-1004(1)(b)(i): abutting property whose boundary lies within one hundred fifty feet."""
    assert said(nassau([], distance=distance), NEIGHBORS)["outcome"] == outcome


def test_each_neighbor_is_told_and_one_notice_does_not_serve_for_two():
    """ECL 33-1004(1)(b)(i): occupants of all dwellings on abutting property within 150 feet."""
    two = {"neighbours": [person("40"), person("60"), person("20", abutting=False)]}
    answer = visit("roof-in-new-york", {**LAWN_IN_NASSAU, "notices": told("2026-09-11T09:00:00-04:00")}, two)
    assert sorted(one["outcome"] for one in by_rule(answer)[NEIGHBORS]) == ["met", "not_met"]


@pytest.mark.parametrize(
    ("means", "outcome"),
    [("letter", "met"), ("door", "met"), ("phone", "not_met"), ("text-message", "not_met")],
)
def test_a_written_notice_is_not_given_by_telephone(means, outcome):
    """ECL 33-1004(1)(b)(i): written notice."""
    finding = said(nassau(told("2026-09-11T09:00:00-04:00", means=means)), NEIGHBORS)
    assert finding["outcome"] == outcome


@pytest.mark.parametrize(
    ("county", "place", "outcome"),
    [
        ("Nassau County", "us-ny-nassau", "not_met"),
        ("Monroe County", "us-ny-monroe", "not_met"),
        ("Kings County", "us-ny-kings", "not_met"),
        ("Nassau", None, "not_met"),
        ("Broome County", "us-ny-broome", "not_applicable"),
    ],
)
def test_a_county_that_has_not_adopted_the_neighbor_law_is_not_bound_by_it(county, place, outcome):
    """ECL 33-1004(1): counties and New York City may adopt it by local law; the department's list of them."""
    places = ["us", "us-ny", place] if place else ["us", "us-ny"]
    where = {"site.county": county, "site.jurisdictions": places}
    finding = said(nassau([], **where), NEIGHBORS)
    assert finding["outcome"] == outcome
    if outcome == "not_applicable":
        assert "This county has not adopted the neighbor notification law" in finding["message"]


@pytest.mark.parametrize(
    ("use", "sent_at", "outcome"),
    [
        ("multiple-dwelling", "2026-09-30T17:00:00+10:00", "met"),
        ("multiple-dwelling", "2026-10-01T08:00:00+10:00", "not_met"),
        ("residence", "2026-10-01T08:00:00+10:00", "not_applicable"),
    ],
    ids=["Wednesday 30 September", "Thursday 1 October", "a house is no complex"],
)
def test_five_working_days_are_counted_over_a_holiday_weekend_on_which_the_clock_changes(use, sent_at, outcome):
    """Pesticides Regulation 2017 (NSW), cl 46(1): at least five working days. Labour Day is the first Monday of
    October (Public Holidays Act 2010), 5 October 2026; the clock goes forward on the first Sunday, 4 October
    2026 (Standard Time Act 1987); both from memory. Work on Thursday the 8th: 7, 6, 2, 1 October, 30
    September."""
    start, finish = "2026-10-08T09:12:00+11:00", "2026-10-08T09:47:00+11:00"
    changes = {**worked(start, finish), "site.use": use, "notices": [notice("occupant", sent_at, start)]}
    finding = said(visit("roof-in-new-south-wales", changes, {"on": "2026-10-09"}), "au-nsw/notice/residents")
    assert (finding["outcome"], finding["level"]) == (outcome, "advised")
    if outcome == "not_met":
        assert finding["bound"] == "2026-09-30T23:59:59+10:00"
        assert "at least 5 business days before the start" in finding["message"]
        assert "serves a start from 2026-10-09 on" in finding["message"]


@pytest.mark.parametrize(
    ("sent_at", "outcome"),
    [("2026-09-13T21:12:00-05:00", "met"), ("2026-09-13T21:13:00-05:00", "not_met")],
    ids=["12 hours", "a minute less"],
)
def test_a_person_on_the_landscape_registry_is_told_12_hours_before_a_lawn(sent_at, outcome):
    """Wis. Admin. Code ATCP 29.56(7): at least twelve hours before a landscape application."""
    lawn = {"surfaces[0].kind": "lawn", "notices": [notice("registered-person", sent_at, START)]}
    answer = visit("roof-in-wisconsin", lawn, {"registered_persons": [person("200", authority="us-wi")]})
    finding = said(answer, "us-wi/notice/registry")
    assert (finding["outcome"], finding["level"]) == (outcome, "required")


def test_the_landscape_registry_does_not_reach_a_roof():
    """Wis. Admin. Code ATCP 29.56(7); the department's notices: not the inside or outside of buildings."""
    answer = visit("roof-in-wisconsin", {"notices": []}, {"registered_persons": [person("0")]})
    assert said(answer, "us-wi/notice/registry")["outcome"] == "not_applicable"


@pytest.mark.parametrize(
    ("sent_at", "outcome"),
    [("2026-09-13T09:12:00-04:00", "met"), ("2026-09-13T10:12:00-04:00", "not_met")],
    ids=["24 hours", "23 hours"],
)
def test_a_registered_person_in_florida_is_told_a_day_before_a_roof_too(sent_at, outcome):
    """F.S. 482.2267: prior notification of registered persons, at least 24 hours (restated)."""
    changes = {"notices": [notice("registered-person", sent_at, START)]}
    answer = visit("roof-in-florida", changes, {"registered_persons": [person("0", authority="us-fl")]})
    assert said(answer, "us-fl/notice/registered-persons")["outcome"] == outcome


@pytest.mark.parametrize(
    ("sent_at", "outcome"),
    [("2026-09-14T07:12:00-07:00", "met"), ("2026-09-14T07:13:00-07:00", "not_met")],
    ids=["2 hours", "a minute less"],
)
def test_a_person_on_washingtons_sensitive_list_is_told_two_hours_before_a_lawn_next_door(sent_at, outcome):
    """RCW 17.21.430(1): at least two hours before a landscape application; 17.21.420(2): abutting property."""
    lawn = {"surfaces[0].kind": "lawn", "notices": [notice("registered-person", sent_at, START, means="phone")]}
    answer = visit("roof-in-september", lawn, {"registered_persons": [person("0", authority="us-wa")]})
    finding = said(answer, "us-wa/notice/registered")
    assert (finding["outcome"], finding["level"]) == (outcome, "required")


@pytest.mark.parametrize(
    ("distance", "unit", "outcome"),
    [("300", "ft", "not_met"), ("301", "ft", "not_applicable"), ("91.44", "m", "not_met")],
)
def test_an_abutter_on_the_registry_is_told_within_100_yards_of_a_roof(distance, unit, outcome):
    """C.G.S. 22a-66a(b): within one hundred yards of the property line. 100 yd are 300 ft and 91.44 m exactly
    (NIST SP 811, B.8). A roof is no exception."""
    registered = {"registered_persons": [person(distance, unit, authority="us-ct")]}
    answer = visit("roof-in-connecticut", {}, registered)
    finding = said(answer, "us-ct/notice/registered-abutters")
    assert (finding["outcome"], finding["level"]) == (outcome, "required")


@pytest.mark.parametrize(
    ("sent_at", "outcome"),
    [("2026-09-14T09:12:00-07:00", "met"), ("2026-09-14T09:13:00-07:00", "not_met")],
    ids=["at the start", "a minute into the work"],
)
def test_the_operator_of_a_property_is_told_before_the_work_without_hours(sent_at, outcome):
    """3 CCR 6618(b): notice to the operator of the property before the application; no hours are set."""
    changes = {"notices": [notice("customer", sent_at, START, means="in-person")]}
    finding = said(visit("roof-in-california", changes), "us-ca/notice/operator")
    assert (finding["outcome"], finding["level"]) == (outcome, "required")


def test_a_duty_that_rests_on_memory_is_advice_and_says_so():
    """IPM Regulation (B.C. Reg. 604/2004), s. 10: the 48 hours are from memory."""
    changes = {"site.use": "multiple-dwelling", "notices": []}
    answer = visit("roof-in-british-columbia", changes)
    finding = said(answer, "ca-bc/notice/multi-residence")
    assert (finding["outcome"], finding["level"], finding["text"]) == ("not_met", "advised", "memory")
    assert finding["due"] == "2026-09-12T09:12:00-07:00"


@pytest.mark.parametrize(
    ("answers", "outcome", "level"),
    [
        ([], "cant_tell", "advised"),
        ([answer_to("us-ny/question/ground", "yes")], "not_met", "required"),
        ([answer_to("us-ny/question/ground", "no")], "not_applicable", "required"),
        ([answer_to("us-ny/question/ground", "yes", valid_to="2026-09-13")], "cant_tell", "advised"),
    ],
    ids=["unanswered", "yes", "no", "an answer that ran out the day before"],
)
def test_whether_a_walk_is_ground_is_asked_and_the_firms_answer_decides(answers, outcome, level):
    """ECL 33-1004(1)(b)(i): a commercial lawn application is one to ground, trees or shrubs; whether a walk is
    ground no text says."""
    walk = {**LAWN_IN_NASSAU, "surfaces[0].kind": "walk", "notices": []}
    answer = visit("roof-in-new-york", walk, {"neighbours": [person("40")], "determinations": answers})
    finding = said(answer, NEIGHBORS)
    assert (finding["outcome"], finding["level"]) == (outcome, level)


def test_nobody_is_told_of_a_roof_as_of_a_lawn():
    """ECL 33-1004; C.R.S. 35-10-112(1)(c); COMAR 15.05.01.17; 333 CMR 13.06(1): lawn, turf or landscape."""
    asked = {"neighbours": [person("10")], "registered_persons": [person("10")]}
    for situation, rules in (
        ("roof-in-new-york", "us-ny/notice/"),
        ("roof-in-colorado", "us-co/notice/"),
        ("roof-in-maryland", "us-md/notice/registered"),
        ("roof-in-massachusetts", "us-ma/notice/"),
    ):
        assert outcomes(visit(situation, {"notices": []}, asked), rules) == {"not_applicable"}
