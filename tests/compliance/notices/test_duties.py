"""Who must be told, by which rule, and why others need not be."""

from compliance.notices.duty import Told
from tests.compliance.notices.plans import NEAR, at, duty, plan
from tests.compliance.rulebook.builders import COUNTRY, pack, rule

NEIGHBOURS, OWNER = "us-ny/notice/neighbors", "us-ny/notice/owner"
MONDAY = "2026-09-14T09:00:00-04:00"


def test_neighbours_within_150_feet_are_named_by_their_place_in_the_list():
    """N.Y. ECL 33-1004(1)(b)(i): abutting property within 150 feet, in a county that adopted the law."""
    far = {**NEAR, "distance": {"value": "151", "unit": "ft"}}
    found = duty(plan("roof-in-new-york", MONDAY, neighbours=[NEAR, far, NEAR], county="Suffolk"), NEIGHBOURS)
    assert found.applies
    assert [(one.to, one.number, one.doubt) for one in found.addressees] == [
        ("neighbour", 0, None),
        ("neighbour", 2, None),
    ]
    assert (found.languages, found.alternates, found.all_alternates) == (("en", "es"), 2, True)
    assert found.cite.startswith("ECL 33-1004")


def test_forty_houses_that_need_not_be_told_are_said_not_to_with_the_reason():
    found = duty(plan("roof-in-new-york", MONDAY, neighbours=[NEAR] * 40, county="Broome"), NEIGHBOURS)
    assert found.applies is False
    assert found.addressees == ()
    assert found.why and found.why.say("en").startswith("This county has not adopted the neighbor notification")


def test_a_list_of_neighbours_that_nobody_made_is_missing_and_not_empty():
    asked = plan("roof-in-new-york", MONDAY, neighbours=None, county="Suffolk")
    unknown = duty(asked, NEIGHBOURS)
    assert (unknown.applies, unknown.lacks) == (None, ("context.neighbours",))
    assert asked.untold == 1
    nobody = duty(plan("roof-in-new-york", MONDAY, neighbours=[], county="Suffolk"), NEIGHBOURS)
    assert nobody.applies is False
    assert nobody.why and nobody.why.say("en") == "Nobody is near enough to be told."


def test_a_rule_on_an_open_question_can_not_be_told_and_asks_it():
    found = duty(plan("roof-in-wisconsin", "2026-09-14T09:00:00-05:00"), "us-wi/notice/residents")
    assert (found.applies, found.level) == (None, "advised")
    assert found.why and "residential application" in found.why.say("en")


def test_somebody_of_whom_no_record_shows_whether_they_must_be_told_may_have_to_be():
    """F.S. 482.2267: adjacent property; farther ones by a certificate, and never over half a mile."""
    across = {"authority": "us-fl", "abutting": False, "distance": {"value": "0.5", "unit": "mi"}}
    beyond = {**across, "distance": {"value": "0.51", "unit": "mi"}}
    asked = plan(
        "roof-in-florida",
        "2026-09-14T09:00:00-04:00",
        registered=[{**NEAR, "authority": "us-fl"}, across, beyond],
        answers={"us-fl/question/pest-control": "yes"},
    )
    assert [(one.number, one.must, one.perhaps) for one in asked.tellings] == [
        (0, True, False),
        (1, False, True),
    ]
    doubt = asked.tellings[1].asks[0].addressee.doubt
    assert doubt and "not adjacent" in doubt.say("en")


def test_who_is_told_only_if_they_ask_is_not_among_those_who_must_be():
    """C.G.S. 22a-66a(b): an abutter may ask the firm itself to be told."""
    asked = plan("roof-in-connecticut", MONDAY, neighbours=[NEAR], registered=[])
    abutter = next(one for one in asked.tellings if one.to == "neighbour")
    assert (abutter.state, abutter.must, abutter.perhaps) == ("if-asked", False, False)


def test_a_notice_to_the_customer_or_an_occupant_is_one_to_the_customer_who_is_asked_for_anyway():
    asked = plan("roof-in-massachusetts", MONDAY)
    (customer,) = asked.tellings
    assert (customer.to, {one.duty.rule for one in customer.asks}) == (
        "customer",
        {"us-ma/notice/turf-completion", "us-ma/notice/turf-statement"},
    )


def test_of_several_rules_that_ask_for_one_person_the_strictest_says_by_when():
    laws = [
        COUNTRY,
        pack(
            rule(id="xx/a", kind="notice", to=["customer"], lead="24 hour"),
            rule(id="xx/b", kind="notice", to=["customer", "occupant"], lead="72 hour"),
            rule(id="xx/c", kind="notice", to=["customer"], lead="96 hour", level="advised"),
        ),
    ]
    (customer,) = plan("roof-in-september", "2026-09-14T09:00:00-07:00", packs=laws).tellings
    assert len(customer.asks) == 3
    assert customer.latest == at("2026-09-11T09:00:00-07:00")


def test_where_no_rule_asks_for_a_notice_nobody_must_be_told():
    """Oregon's rules, as the pack has them, ask for records and licences alone."""
    asked = plan("roof-in-oregon", "2026-09-14T09:00:00-07:00")
    assert (asked.duties.notices, asked.tellings) == ((), ())


def test_signs_stand_at_the_start_for_as_long_as_the_law_asks():
    """N.Y. ECL 33-1003: for at least 24 hours; C.G.S. 22a-66a(c): 24 hours."""
    for base in ("roof-in-new-york", "roof-in-connecticut"):
        (signs,) = [one for one in plan(base, MONDAY).duties.signs if one.applies]
        assert (signs.latest, signs.until) == (at(MONDAY), at("2026-09-15T09:00:00-04:00"))


def test_a_copy_is_due_within_thirty_days_of_the_planned_day():
    """Wis. Admin. Code ATCP 29.22: within 30 days. By hand: 14 September and 30 days is 14 October."""
    later = plan("roof-in-wisconsin", "2026-09-14T09:00:00-05:00").duties.later
    copy = next(one for one in later if one.rule == "us-wi/deadline/customer-information")
    assert copy.due and copy.due.isoformat() == "2026-10-14T23:59:59-05:00"


def test_notices_on_a_record_without_a_name_go_to_one_neighbour_each():
    sent = Told("neighbour", means="door", language="en", sent_at=at("2026-09-10T09:00:00-04:00"))
    asked = plan("roof-in-new-york", MONDAY, sent, neighbours=[NEAR, NEAR], county="Suffolk")
    shared = {one.number: len(one.told) for one in asked.tellings if one.to == "neighbour"}
    assert shared == {0: 1, 1: 0}


def test_two_neighbours_told_in_two_languages_each_are_told_in_time():
    sent = [
        Told(
            "neighbour",
            means="door",
            language=language,
            sent_at=at("2026-09-10T09:00:00-04:00"),
            planned_at=at(MONDAY),
            alternates=(at("2026-09-15").date(), at("2026-09-16").date()),
        )
        for language in ("en", "es", "en", "es")
    ]
    asked = plan("roof-in-new-york", MONDAY, *sent, neighbours=[NEAR, NEAR], county="Suffolk")
    assert [one.state for one in asked.tellings if one.to == "neighbour"] == ["in-time", "in-time"]
