"""A record is kept as long as the longest duty says, over all its versions; what can't be told is kept."""

from datetime import date

from compliance.terms import Term, term_of


def finding(rule: str, until: str | None = None, **members: str) -> dict:
    return {
        "rule": rule,
        "keep_until": until,
        "outcome": "not_applicable",
        "wording": "retention/keep",
        **members,
    }


def check(*findings: dict) -> dict:
    return {"findings": list(findings)}


def test_the_longest_duty_wins():
    found = term_of([check(finding("a/two-years", "2028-09-14"), finding("b/seven-years", "2033-09-14"))])
    assert found == Term(date(2033, 9, 14), ("b/seven-years",))


def test_rules_that_ask_for_the_same_are_all_named_once():
    one = check(finding("b/r", "2028-09-14"), finding("a/r", "2028-09-14"))
    assert term_of([one, one]) == Term(date(2028, 9, 14), ("a/r", "b/r"))


def test_an_earlier_version_that_asked_for_more_still_counts():
    found = term_of([check(finding("a/r", "2033-09-14")), check(finding("a/r", "2028-09-14"))])
    assert found and found.until == date(2033, 9, 14)


def test_where_no_rule_sets_a_term_there_is_none():
    assert term_of([]) is None
    assert term_of([check()]) is None
    assert term_of([check(finding("a/wind", wording="limit/met"))]) is None


def test_where_the_newest_check_can_t_tell_a_duty_there_is_no_term():
    known, unknown = finding("a/r", "2028-09-14"), finding("b/r", wording="retention/unknown")
    assert term_of([check(known, unknown)]) is None
    assert term_of([check(known), check(known, unknown)]) is None


def test_what_a_later_version_cleared_up_counts():
    unknown = check(finding("a/r", wording="retention/unknown"))
    found = term_of([unknown, check(finding("a/r", "2028-09-14"))])
    assert found == Term(date(2028, 9, 14), ("a/r",))


def test_a_rule_that_sets_terms_and_may_or_may_not_apply_leaves_it_open():
    maybe = finding("b/r", outcome="cant_tell", wording="when/unknown")
    known = finding("a/r", "2028-09-14")
    assert term_of([check(known, maybe)], {"b/r"}) is None
    assert term_of([check(known, maybe)], {"c/r"}) == Term(date(2028, 9, 14), ("a/r",))
