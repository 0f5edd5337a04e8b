"""Whole visits and when their record was made, what it has to hold, how long it is kept and what is reported.

Each test names its law; how the text was read stands in the sources of the pack that states it.
"""

import pytest

from tests.outside.scenario import answer_to, outcomes, said, visit, worked


@pytest.mark.parametrize(
    ("recorded_at", "outcome"),
    [
        ("2026-09-14T10:05:00-05:00", "met"),
        ("2026-09-19T23:59:00-05:00", "met"),
        ("2026-09-20T00:01:00-05:00", "not_met"),
    ],
    ids=["on the day", "on the fifth day", "on the sixth day"],
)
def test_a_record_is_made_by_the_end_of_the_fifth_day(recorded_at, outcome):
    """Minn. Stat. 18B.37 subd. 2(d): no later than five days after the application."""
    finding = said(visit("roof-in-minnesota", {"timing.recorded_at": recorded_at}), "us-mn/deadline/five-days")
    assert (finding["outcome"], finding["level"]) == (outcome, "required")
    assert finding["due"] == "2026-09-19T23:59:59-05:00"
    assert finding["cite"] == "Minn. Stat. 18B.37 subd. 2(d)"


def test_a_record_that_is_not_made_yet_is_still_to_do_until_the_fifth_day_has_passed():
    """Minn. Stat. 18B.37 subd. 2(d)."""
    unmade = {"timing.recorded_at": None}
    within = said(visit("roof-in-minnesota", unmade, {"on": "2026-09-19"}), "us-mn/deadline/five-days")
    past = said(visit("roof-in-minnesota", unmade, {"on": "2026-09-20"}), "us-mn/deadline/five-days")
    assert (within["outcome"], past["outcome"]) == ("not_applicable", "cant_tell")
    assert "do it by 2026-09-19" in within["message"]


@pytest.mark.parametrize(
    ("recorded_at", "outcome"),
    [("2026-09-14T23:59:00-07:00", "met"), ("2026-09-15T00:00:00-07:00", "not_met")],
    ids=["a minute before midnight", "at midnight"],
)
def test_washington_wants_the_record_on_the_day_as_the_clock_at_the_site_counts_it(recorded_at, outcome):
    """RCW 17.21.100(2)(a): on the same day. In UTC both moments lie on 15 September."""
    finding = said(visit("roof-in-september", {"timing.recorded_at": recorded_at}), "us-wa/deadline/same-day")
    assert (finding["outcome"], finding["level"]) == (outcome, "required")


@pytest.mark.parametrize(
    ("finish", "recorded_at", "outcome"),
    [
        ("2026-09-14T16:00:00+10:00", "2026-09-16T16:00:00+10:00", "met"),
        ("2026-09-14T16:00:00+10:00", "2026-09-16T16:01:00+10:00", "not_met"),
        ("2026-10-03T16:00:00+10:00", "2026-10-05T17:00:00+11:00", "met"),
        ("2026-10-03T16:00:00+10:00", "2026-10-05T17:01:00+11:00", "not_met"),
    ],
    ids=["48 hours", "a minute more", "48 hours over the change of the clock", "a minute more over it"],
)
def test_new_south_wales_allows_48_hours_for_the_record(finish, recorded_at, outcome):
    """Pesticides Regulation 2017 (NSW), Part 4, as the authority's page restates it: within 48 hours. The clock
    goes forward on 4 October 2026 (Standard Time Act 1987, from memory)."""
    times = worked(finish.replace("T16:00", "T15:00"), finish, recorded_at)
    finding = said(visit("roof-in-new-south-wales", times, {"on": "2026-10-10"}), "au-nsw/deadline/48-hours")
    assert (finding["outcome"], finding["level"], finding["text"]) == (outcome, "required", "restated")


def test_british_columbias_day_of_use_is_from_memory_and_so_is_advice():
    """IPM Regulation (B.C. Reg. 604/2004), s. 35, from memory."""
    late = {"timing.recorded_at": "2026-09-15T00:01:00-07:00"}
    finding = said(visit("roof-in-british-columbia", late), "ca-bc/deadline/same-day")
    assert (finding["outcome"], finding["level"], finding["text"]) == ("not_met", "advised", "memory")


def test_a_report_is_due_on_31_january_also_for_a_year_in_which_nothing_was_applied():
    """IPM Regulation, annual use summary: by 31 January, one for each licensee, even if nil (ministry's page).
    A report never judges the record: it carries the day."""
    stood_down = {
        "record.result": "stood-down",
        "record.why": "wind",
        "timing.started_at": None,
        "timing.finished_at": None,
        "mixes": [],
        "people[0].tasks": ["drove"],
    }
    for changes in ({}, stood_down):
        finding = said(visit("roof-in-british-columbia", changes), "ca-bc/report/annual")
        assert finding["outcome"] == "not_applicable"
        assert finding["due"] == "2027-01-31T23:59:59-08:00"
        assert "A period without work needs a report, too." in finding["message"]


@pytest.mark.parametrize(
    ("start", "due"),
    [
        ("2026-09-30T09:12:00-07:00", "2026-10-10T23:59:59-07:00"),
        ("2026-10-01T09:12:00-07:00", "2026-11-10T23:59:59-08:00"),
        ("2026-12-31T09:12:00-08:00", "2027-01-10T23:59:59-08:00"),
    ],
    ids=["September", "October", "December"],
)
def test_californias_summary_is_due_on_the_tenth_of_the_following_month(start, due):
    """3 CCR 6627(a): by the 10th day of the month following the month of the work (restated)."""
    finish = start.replace("09:12", "09:47")
    answer = visit("roof-in-california", worked(start, finish), {"on": "2027-01-01"})
    assert said(answer, "us-ca/report/monthly")["due"] == due


def test_new_yorks_report_of_a_year_is_due_on_1_february():
    """ECL 33-1205(1): by February first of the following year."""
    finding = said(visit("roof-in-new-york"), "us-ny/report/annual")
    assert (finding["outcome"], finding["due"]) == ("not_applicable", "2027-02-01T23:59:59-05:00")


@pytest.mark.parametrize(
    ("situation", "rule", "until"),
    [
        ("roof-in-september", "us-wa/retention/seven-years", "2033-09-14"),
        ("roof-in-oregon", "us-or/retention/three-years", "2029-09-14"),
        ("roof-in-new-york", "us-ny/retention/three-years", "2029-09-14"),
        ("roof-in-minnesota", "us-mn/retention/five-years", "2031-09-14"),
        ("roof-in-maryland", "us-md/retention/two-years", "2028-09-14"),
        ("roof-in-wisconsin", "us-wi/retention/two-years", "2028-09-14"),
        ("roof-in-massachusetts", "us-ma/retention/three-years", "2029-09-14"),
        ("roof-in-the-union", "eu/retention/three-years", "2029-09-14"),
        ("roof-in-britain", "gb/retention/three-years", "2029-09-14"),
    ],
)
def test_a_record_is_kept_to_the_day(situation, rule, until):
    """RCW 17.21.100(3); ORS 634.146(2); ECL 33-1205(1); Minn. Stat. 18B.37 subd. 2(f) (number from memory);
    COMAR 15.05.01.12; ATCP 29.21(1); 333 CMR 10.14(2); Regulation (EC) 1107/2009, art. 67(1), and as
    retained."""
    finding = said(visit(situation), rule)
    assert (finding["outcome"], finding["keep_until"]) == ("not_applicable", until)


def test_a_record_of_29_february_is_kept_a_day_longer_and_not_a_day_less():
    """RCW 17.21.100(3): no less than seven years from the application. 2035 has no 29 February."""
    leap_day = worked("2028-02-29T09:12:00-08:00", "2028-02-29T09:47:00-08:00")
    finding = said(visit("roof-in-september", leap_day, {"on": "2028-03-01"}), "us-wa/retention/seven-years")
    assert finding["keep_until"] == "2035-03-01"


@pytest.mark.parametrize(
    ("situation", "rule", "until"),
    [
        ("roof-in-new-south-wales", "au-nsw/retention/three-years", "2029-09-16"),
        ("roof-in-connecticut", "us-ct/retention/five-years", "2031-09-16"),
    ],
)
def test_some_laws_count_from_the_making_of_the_record_and_not_from_the_work(situation, rule, until):
    """Pesticides Regulation 2017 (NSW), cl 37(1): after the date on which it was made. C.G.S. 22a-66g(a): from
    the date of making or amending, whichever is later."""
    offset = "+10:00" if situation.endswith("wales") else "-04:00"
    two_days_later = {"timing.recorded_at": f"2026-09-16T09:00:00{offset}"}
    assert said(visit(situation, two_days_later, {"on": "2026-09-17"}), rule)["keep_until"] == until


def test_an_amended_record_is_kept_from_its_amendment():
    """C.G.S. 22a-66g(a): five years from making or amending, whichever is later."""
    amended = {
        "record.version": 2,
        "record.replaces": {"version": 1, "digest": "sha256:" + "0" * 64},
        "record.corrected_at": "2026-12-01T10:00:00-05:00",
    }
    answer = visit("roof-in-connecticut", amended, {"on": "2026-12-02"})
    assert said(answer, "us-ct/retention/five-years")["keep_until"] is None
    assert said(answer, "us-ct/retention/five-years-from-amendment")["keep_until"] == "2031-12-01"


@pytest.mark.parametrize(
    ("day", "until", "cite"),
    [
        ("2024-06-30", "2027-06-30", "IDAPA 02.03.03.100.05, as the department's page restates it"),
        ("2024-07-01", "2026-07-01", "IDAPA 02.03.03.101.01"),
    ],
)
def test_idaho_kept_three_years_before_july_2024_and_two_since(day, until, cite):
    """IDAPA 02.03.03.101.01, effective 1 July 2024; before, 02.03.03.100.05 as the department's page restates
    it."""
    times = worked(f"{day}T09:12:00-06:00", f"{day}T09:47:00-06:00")
    finding = said(visit("roof-in-idaho", times, {"on": "2024-07-02"}), "us-id/retention/records")
    assert (finding["keep_until"], finding["cite"]) == (until, cite)
    assert finding["doubt"].endswith("Keep three to be safe.")


@pytest.mark.parametrize(
    ("given_at", "outcome"),
    [("2026-10-14T17:00:00-06:00", "met"), ("2026-10-15T08:00:00-06:00", "not_met")],
    ids=["on the thirtieth day", "on the thirty-first"],
)
def test_idaho_wants_the_customers_copy_of_a_restricted_use_record_within_30_days(given_at, outcome):
    """IDAPA 02.03.03.101.02: within thirty days; restricted-use products only."""
    copy = {"follow_ups": [{"schema": "follow-up/1", "kind": "copy-given", "at": given_at}]}
    restricted = {"mixes[0].products[0].restricted_use": True}
    answer = visit("roof-in-idaho", restricted, {**copy, "on": "2026-10-20"})
    finding = said(answer, "us-id/deadline/customer-copy")
    assert (finding["outcome"], finding["level"]) == (outcome, "required")
    assert finding["due"] == "2026-10-14T23:59:59-06:00"
    assert said(visit("roof-in-idaho", {}, copy), "us-id/deadline/customer-copy")["outcome"] == "not_applicable"


@pytest.mark.parametrize(
    ("on", "follow_ups", "outcome"),
    [("2026-10-14", [], "not_applicable"), ("2026-10-15", [], "not_met")],
    ids=["still time", "overdue"],
)
def test_wisconsin_wants_the_customer_informed_within_30_days_of_any_product(on, follow_ups, outcome):
    """Wis. Admin. Code ATCP 29.22: within thirty days of the application."""
    finding = said(
        visit("roof-in-wisconsin", {}, {"on": on, "follow_ups": follow_ups}),
        "us-wi/deadline/customer-information",
    )
    assert (finding["outcome"], finding["level"]) == (outcome, "required")
    assert finding["due"] == "2026-10-14T23:59:59-05:00"


@pytest.mark.parametrize(
    ("answers", "outcome", "level"),
    [
        ([], "cant_tell", "advised"),
        (["no", "no"], "not_met", "required"),
        (["yes", "no"], "not_applicable", "required"),
    ],
    ids=["unanswered", "not put off, no longer term", "put off to 2027"],
)
def test_the_electronic_record_hangs_on_what_the_member_state_has_put_off(answers, outcome, level):
    """Implementing Regulation (EU) 2023/564, art. 3, as amended by 2025/2203: electronic within 30 days of the
    use; a State may put the duty off to 1 January 2027, or allow longer until 2030."""
    names = ("eu/question/electronic-from-2027", "eu/question/longer-until-2030")
    given = [answer_to(name, said) for name, said in zip(names, answers, strict=False)]
    late = {"timing.recorded_at": "2026-10-15T09:00:00+01:00"}
    answer = visit("roof-in-the-union", late, {"determinations": given, "on": "2026-10-16"})
    finding = said(answer, "eu/deadline/electronic-2026")
    assert (finding["outcome"], finding["level"]) == (outcome, level)


def test_the_annex_of_2023_564_asks_from_2026_on_and_article_67_before():
    """Implementing Regulation (EU) 2023/564 applies from 1 January 2026."""
    unnumbered = {"mixes[0].products[0].registration_number": None}
    last_day = worked("2025-12-31T09:12:00+00:00", "2025-12-31T09:47:00+00:00")
    before = visit("roof-in-the-union", {**unnumbered, **last_day}, {"on": "2026-01-02"})
    since = visit("roof-in-the-union", unnumbered)
    assert outcomes(before, "eu/record/authorisation-number") == set()
    assert outcomes(before, "eu/record/product-name") == {"met"}
    assert said(since, "eu/record/authorisation-number")["outcome"] == "not_met"


def test_the_federal_copy_for_the_customer_of_a_restricted_use_record_is_advice_due_in_30_days():
    """7 U.S.C. 136i-1(a)(2): within 30 days. The rule that carried it out was rescinded (90 FR 20083)."""
    finding = said(visit("restricted-use-roof"), "us/restricted-use/customer-copy")
    assert (finding["outcome"], finding["level"]) == ("not_applicable", "advised")
    assert finding["due"].startswith("2026-10-14")


def test_a_record_that_states_every_element_in_time_is_met_as_a_whole():
    """RCW 17.21.100(1) to (3); form AGR 4226 (Rev. 5/03). The department told the firm that its roofs are
    structural applications (RCW 17.21.020(28)(c))."""
    told = [answer_to("us-wa/question/structural-application", "yes")]
    answer = visit("roof-in-september", {}, {"determinations": told})
    assert outcomes(answer, "us-wa/") == {"met", "not_applicable"}
    assert answer["outcome"] == "met"
