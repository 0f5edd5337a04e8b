"""By when, from when, until when: calendars worked out by hand, each with the law that counts them.

Clocks of New York and Chicago go forward on 8 March 2026 and back on 1 November 2026, at two in the morning (15
U.S.C. 260a); those of New South Wales go forward on 4 October 2026 (Standard Time Act 1987, from memory).
"""

from dataclasses import replace
from datetime import UTC, timedelta

import pytest

from compliance.notices.duty import Told
from tests.compliance.notices.plans import NEAR, at, latest, plan

NY = "us-ny/notice/neighbors"
STRATA = {"answers": {"au-nsw/question/technician-work": "yes"}, "use": "multiple-dwelling"}


@pytest.mark.parametrize(
    ("planned", "by"),
    [
        ("2026-09-14T09:00:00-04:00", "2026-09-12T09:00-04:00"),
        ("2026-09-14T00:30:00-04:00", "2026-09-12T00:30-04:00"),
        ("2026-11-02T09:00:00-05:00", "2026-10-31T10:00-04:00"),
        ("2026-03-09T09:00:00-04:00", "2026-03-07T08:00-05:00"),
        ("2028-03-01T09:00:00-05:00", "2028-02-28T09:00-05:00"),
        ("2027-03-01T09:00:00-05:00", "2027-02-27T09:00-05:00"),
        ("2026-09-14T06:00:00-07:00", "2026-09-12T09:00-04:00"),
    ],
    ids=[
        "over a weekend",
        "half past midnight",
        "clocks go back",
        "clocks go forward",
        "29 February",
        "no 29 February",
        "planned on a clock further west",
    ],
)
def test_new_york_counts_48_hours_as_they_pass(planned: str, by: str):
    """N.Y. ECL 33-1004(1)(b)(i): at least 48 hours before."""
    assert latest(plan("roof-in-new-york", planned, neighbours=[NEAR], county="Suffolk"), NY) == by


@pytest.mark.parametrize(
    ("base", "rule", "planned", "by"),
    [
        # RCW 17.21.430: two hours; half past three on the morning on which there is no two o'clock.
        ("roof-in-september", "us-wa/notice/registered", "2026-03-08T03:30:00-07:00", "2026-03-08T00:30-08:00"),
        ("roof-in-september", "us-wa/notice/registered", "2026-11-01T01:30:00-08:00", "2026-11-01T00:30-07:00"),
        # Wis. Admin. Code ATCP 29.56(7): twelve hours, one of them twice.
        ("roof-in-wisconsin", "us-wi/notice/registry", "2026-11-01T09:00:00-06:00", "2026-10-31T22:00-05:00"),
        # C.R.S. 35-10-112(1)(c)(I) and C.G.S. 22a-66a(b): before, with no hours.
        ("roof-in-colorado", "us-co/notice/registered-persons",
         "2026-09-14T09:00:00-06:00", "2026-09-14T09:00-06:00"),
        ("roof-in-connecticut", "us-ct/notice/registered-abutters",
         "2026-09-14T09:00:00-04:00", "2026-09-14T09:00-04:00"),
        # 333 CMR 13.06(1)(c): a statement left on completion, here by the end of the day.
        ("roof-in-massachusetts", "us-ma/notice/turf-completion",
         "2026-09-14T09:00:00-04:00", "2026-09-14T23:59-04:00"),
        # N.J.A.C. 7:30-9.12(b)1: before the work, in time for precautions.
        ("roof-in-new-jersey", "us-nj/notice/consumer-information",
         "2026-09-14T09:00:00-04:00", "2026-09-14T09:00-04:00"),
    ],
)  # fmt: skip
def test_other_states_count_as_their_rules_say(base: str, rule: str, planned: str, by: str):
    assert latest(plan(base, planned, registered=[]), rule) == by


@pytest.mark.parametrize(
    ("planned", "by"),
    [
        ("2026-09-14T09:00:00+10:00", "2026-09-07T23:59+10:00"),
        ("2026-10-09T09:00:00+11:00", "2026-10-01T23:59+10:00"),
        ("2026-10-10T09:00:00+11:00", "2026-10-01T23:59+10:00"),
    ],
    ids=["a plain week", "over a holiday", "on a Saturday"],
)
def test_new_south_wales_counts_five_working_days(planned: str, by: str):
    """Pesticides Regulation 2017, cl 46(1). Labour Day, the first Monday of October, is the 5th in 2026.
    By hand, from Friday the 9th back: Thursday 8, Wednesday 7, Tuesday 6, Friday 2, Thursday 1."""
    assert latest(plan("roof-in-new-south-wales", planned, **STRATA), "au-nsw/notice/residents") == by


def by_post(sent: str, number: int | None = None, **changes: object) -> list[Told]:
    """Letters in both languages for Monday 14 September at nine, with the two days after it."""
    told = Told(
        "neighbour",
        number,
        means="door",
        sent_at=at(sent),
        delivered_at=at(sent),
        planned_at=at("2026-09-14T09:00:00-04:00"),
        alternates=(at("2026-09-15").date(), at("2026-09-16").date()),
    )
    return [replace(told, language=language, **changes) for language in ("en", "es")]  # type: ignore[arg-type]


OWNER_TOLD = Told("customer", means="email", sent_at=at("2026-01-02T09:00:00-04:00"))
MONDAY = "2026-09-14T09:00:00-04:00"


def suffolk(*told: Told, planned: str = MONDAY, near: int = 1):
    return plan("roof-in-new-york", planned, OWNER_TOLD, *told, neighbours=[NEAR] * near, county="Suffolk")


def test_who_is_told_now_may_be_sprayed_beside_in_48_hours():
    now = at("2026-09-10T12:00:00-04:00")
    assert suffolk().earliest(now) == at("2026-09-12T12:00:00-04:00")
    assert suffolk().earliest(now, as_sent=True) is None


def test_notices_that_name_a_day_are_good_from_the_beginning_of_that_day():
    told = suffolk(*by_post("2026-09-10T12:00:00-04:00", 0))
    now = at("2026-09-11T08:00:00-04:00")
    assert [one.state for one in told.tellings] == ["in-time", "in-time"]
    assert told.earliest(now, as_sent=True) == at("2026-09-14T00:00:00-04:00")


def test_the_hours_count_from_the_notice_where_it_came_late_for_its_day():
    """Told on Sunday at noon, the earliest is Tuesday at noon, which the notice names as an alternate date."""
    told = suffolk(*by_post("2026-09-13T12:00:00-04:00", 0))
    assert told.tellings[1].state == "wrong"
    assert told.earliest(at("2026-09-13T13:00:00-04:00"), as_sent=True) == at("2026-09-15T12:00:00-04:00")


def test_one_who_was_forgotten_is_told_now_and_the_others_notices_name_the_day():
    told = suffolk(*by_post("2026-09-10T12:00:00-04:00", 0), near=2)
    assert [one.state for one in told.tellings] == ["in-time", "in-time", "not-told"]
    assert told.earliest(at("2026-09-13T18:00:00-04:00")) == at("2026-09-15T18:00:00-04:00")


def test_where_the_days_that_were_named_are_over_everybody_is_told_again():
    told = suffolk(*by_post("2026-09-10T12:00:00-04:00", 0), near=2)
    assert told.earliest(at("2026-09-16T18:00:00-04:00")) == at("2026-09-18T18:00:00-04:00")


def test_a_notice_in_english_alone_is_not_enough():
    """N.Y. ECL 33-1005: in English and Spanish."""
    told = suffolk(by_post("2026-09-10T12:00:00-04:00", 0)[0])
    assert told.tellings[1].state == "wrong"
    judgement = told.tellings[1].asks[0].judgement
    assert judgement and judgement.wording == "notice/none"


def test_five_working_days_after_a_notice_begin_the_earliest_day():
    """By hand: told on Thursday 1 October, the five are 2, 6, 7, 8 and 9 October; the 5th is Labour Day."""
    site = plan("roof-in-new-south-wales", "2026-10-20T09:00:00+11:00", **STRATA)
    site = replace(site, packs=[_required(one) for one in site.packs])
    assert site.earliest(at("2026-10-01T16:00:00+10:00")) == at("2026-10-09T00:00:00+11:00")


def _required(pack):
    """The pack as if it required what it advises, whoever's duty it is."""
    return replace(pack, rules=tuple(replace(one, level="required") for one in pack.rules))


def test_the_earliest_start_is_in_time_by_the_rule_itself_and_a_minute_earlier_is_not():
    for sent in ("2026-10-30T15:30:00-04:00", "2026-03-06T20:10:00-05:00", "2026-09-12T00:00:00-04:00"):
        asked = suffolk(planned="2026-12-01T09:00:00-05:00")
        start = asked.earliest(at(sent))
        neighbour = asked.tellings[1].asks[0].duty
        assert start
        later = tuple(start.date() + timedelta(days=days) for days in (1, 2))
        for minutes, outcome in ((0, "met"), (-1, "not_met")):
            moment = start.astimezone(UTC) + timedelta(minutes=minutes)
            told = [replace(one, planned_at=moment, alternates=later) for one in by_post(sent)]
            judgement = neighbour.holds.judged(told, moment)
            assert judgement and str(judgement.outcome) == outcome


def test_a_move_to_an_alternate_date_needs_no_new_notice_and_one_to_another_day_does():
    told = suffolk(*by_post("2026-09-10T12:00:00-04:00", 0))
    moved = told.moved(told.moved_to(at("2026-09-15T14:00:00-04:00")))
    assert [one.to for one in moved.by_alternate] == ["neighbour"]
    assert [one.to for one in moved.covered] == ["customer"]
    assert moved.again == ()
    moved = told.moved(told.moved_to(at("2026-09-17T09:00:00-04:00")))
    assert [one.to for one in moved.again] == ["neighbour"]
    judgement = moved.again[0].asks[0].judgement
    assert judgement and judgement.wording == "notice/stale"


def test_a_move_tells_who_was_never_told():
    told = suffolk(*by_post("2026-09-10T12:00:00-04:00", 0), near=2)
    moved = told.moved(told.moved_to(at("2026-09-15T14:00:00-04:00")))
    assert [(one.to, one.number) for one in moved.first] == [("neighbour", 1)]


def test_the_timeline_runs_from_the_last_moment_to_tell_to_the_report_of_the_year():
    told = suffolk(*by_post("2026-09-10T12:00:00-04:00", 0))
    said = [(one.kind, one.at and one.at.isoformat(timespec="minutes")) for one in told.events()]
    assert said == [
        ("tell", "2026-09-12T09:00-04:00"),
        ("tell", "2026-09-14T09:00-04:00"),
        ("signs-up", "2026-09-14T09:00-04:00"),
        ("start", "2026-09-14T09:00-04:00"),
        ("signs-down", "2026-09-15T09:00-04:00"),
        ("stale", "2026-09-16T23:59-04:00"),
        ("later", "2027-02-01T23:59-05:00"),
    ]


def test_without_a_planned_time_nothing_is_dated_and_nobody_is_left_out():
    asked = plan("roof-in-new-york", None, neighbours=[NEAR], county="Suffolk")
    assert asked.start is None
    assert {(one.to, one.latest) for one in asked.tellings} == {("customer", None), ("neighbour", None)}
    assert asked.earliest(at("2026-09-10T12:00:00-04:00")) == at("2026-09-12T12:00:00-04:00")
