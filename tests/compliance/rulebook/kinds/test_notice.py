"""Kind `notice`: both sides of each lead time, on hand-worked calendars; who is told; how long it holds.

The invented law binds the roof of 14 September 2026, started at 09:12 Pacific daylight time.
"""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from compliance.rulebook.finding import Finding
from tests.compliance.rulebook.builders import check, finding, findings, outcome, pack, rule

WHEN_TO_TELL = {"id": "xx/notice", "kind": "notice", "stage": "before", "to": ["customer"]}
NEIGHBOURS = {
    "lead": "48 hour",
    "to": ["neighbour"],
    "whom": {
        "all": [
            {"fact": "item.abutting", "is": "yes"},
            {"fact": "item.distance", "at most": "150 ft"},
        ]
    },
}


def notice(**keys: Any) -> dict[str, Any]:
    return rule(**{**WHEN_TO_TELL, "lead": None if "after" in keys else "48 hour", **keys})


def told(at: str | None, **more: Any) -> dict[str, Any]:
    """One notice to the customer, sent at this time (and not known to be delivered)."""
    one = {"to": "customer", "name": "A. Marlowe", "means": "email", "language": "en", "sent_at": at}
    return {"notices": [{**one, "planned_at": "2026-09-14T09:00:00-07:00", **more}]}


def near(*flags: dict[str, Any]) -> dict[str, Any]:
    """Neighbours by number, abutting at 20 ft unless said otherwise."""
    usual = {"abutting": True, "distance": {"value": "20", "unit": "ft"}, "dwelling": True}
    return {"neighbours": [{"name": f"N. {n}", **usual, **one} for n, one in enumerate(flags, 1)]}


def sheets(*sent: str, **more: Any) -> dict[str, Any]:
    """Notices to neighbours, without names."""
    return {"notices": [{"to": "neighbour", "means": "door", "sent_at": at, **more} for at in sent]}


def started(at: str, **more: Any) -> dict[str, Any]:
    return {"timing": {"planned_at": at, "started_at": at, **more}}


@pytest.mark.parametrize(
    ("at", "expected"),
    [
        ("2026-09-12T09:12:00-07:00", "met"),
        ("2026-09-12T09:12:01-07:00", "not_met"),
        ("2026-09-12T10:12:00-06:00", "met"),
        ("2026-09-14T10:00:00-07:00", "not_met"),
        (None, "cant_tell"),
    ],
)
def test_hours_run_back_from_the_start_to_the_second(at: str | None, expected: str) -> None:
    assert outcome(notice(), changes=told(at)) == expected


def test_a_late_notice_says_how_long_before_and_which_start_it_serves() -> None:
    found = finding(notice(), changes=told("2026-09-13T06:59:00-07:00"))
    assert found.message.say("en") == (
        "Customer: told 2026-09-13 06:59, 26 h 13 min before the start; Example Act 1(a) asks for it at "
        "least 48 h before the start. This notice serves a start from 2026-09-15 06:59 on: move the date, or "
        "say on the record why it was not."
    )
    assert found.message.say("es").startswith("Cliente: aviso del 2026-09-13 06:59, 26 h 13 min antes del")
    stated = found.as_json("en")
    assert stated["observed"] == {"value": "26.2167", "unit": "hour"}
    assert stated["bound"] == {"value": "48", "unit": "hour"}
    assert found.about == ("notices[0].sent_at",)


def test_forty_eight_hours_over_the_clock_change_are_hours_that_pass() -> None:
    """On 1 November 2026 clocks in Los Angeles go back at 02:00 (15 U.S.C. 260a(a), first Sunday of
    November): from 09:00 on Saturday to 09:00 on Monday 49 hours pass."""
    changes = started("2026-11-02T09:00:00-08:00")
    assert outcome(notice(), changes={**changes, **told("2026-10-31T10:00:00-07:00")}) == "met"
    assert outcome(notice(), changes={**changes, **told("2026-10-31T10:00:01-07:00")}) == "not_met"


@pytest.mark.parametrize(
    ("at", "expected"), [("2026-09-11T23:59:59-07:00", "met"), ("2026-09-12T00:00:00-07:00", "not_met")]
)
def test_calendar_days_are_whole_local_days(at: str, expected: str) -> None:
    assert outcome(notice(lead="3 day"), changes=told(at)) == expected


@pytest.mark.parametrize(
    ("at", "expected"), [("2026-09-04T23:59:59-07:00", "met"), ("2026-09-05T00:00:00-07:00", "not_met")]
)
def test_business_days_pass_over_the_weekend_and_a_holiday(at: str, expected: str) -> None:
    """By hand: back from Monday 14 September five business days are Fri 11, Thu 10, Wed 9, Tue 8 and, over
    Labor Day (Mon 7, 5 U.S.C. 6103(a)) and the weekend, Fri 4."""
    assert outcome(notice(lead="5 business day", holidays="us"), changes=told(at)) == expected


def test_business_days_go_by_the_places_calendar() -> None:
    """7 September 2026 is a working day in New South Wales: the fifth day back is that Monday."""
    rules = notice(lead="5 business day", holidays="au-nsw")
    assert outcome(rules, changes=told("2026-09-07T12:00:00-07:00")) == "met"
    late = finding(rules, changes=told("2026-09-08T12:00:00-07:00"))
    assert "asks for it at least 5 business days before the start" in late.message.say("en")
    assert "al menos 5 días hábiles antes" in late.message.say("es")
    assert "serves a start from 2026-09-15 on" in late.message.say("en")


@pytest.mark.parametrize(
    ("lead", "at", "expected"),
    [
        ("before", "2026-09-14T09:12:00-07:00", "met"),
        ("before", "2026-09-14T09:12:01-07:00", "not_met"),
        ("at the time", "2026-09-14T08:00:00-07:00", "met"),
        ("at the time", "2026-09-14T09:47:00-07:00", "met"),
        ("at the time", "2026-09-14T09:47:01-07:00", "not_met"),
    ],
)
def test_a_notice_may_be_due_before_the_start_or_while_the_work_goes_on(
    lead: str, at: str, expected: str
) -> None:
    assert outcome(notice(lead=lead), changes=told(at)) == expected


def test_while_the_end_is_not_stated_a_notice_after_the_start_cant_be_told() -> None:
    changes = {**told("2026-09-14T09:30:00-07:00"), "timing.finished_at": None}
    assert finding(notice(lead="at the time"), changes=changes).about == ("timing.finished_at",)
    assert outcome(notice(lead="at the time"), changes={**changes, "notices": []}) == "not_met"


@pytest.mark.parametrize(
    ("counts", "sent", "delivered", "expected"),
    [
        (None, "2026-09-12T09:00:00-07:00", "2026-09-13T09:00:00-07:00", "not_met"),
        ("sent", "2026-09-12T09:00:00-07:00", "2026-09-13T09:00:00-07:00", "met"),
        ("delivered", "2026-09-12T09:00:00-07:00", None, "cant_tell"),
        (None, "2026-09-12T09:00:00-07:00", None, "met"),
    ],
)
def test_the_delivery_counts_before_the_sending_unless_the_law_says_otherwise(
    counts: str | None, sent: str, delivered: str | None, expected: str
) -> None:
    assert outcome(notice(counts=counts), changes=told(sent, delivered_at=delivered)) == expected


@pytest.mark.parametrize(
    ("at", "expected"),
    [
        ("2026-09-07T00:00:00-07:00", "met"),
        ("2026-09-06T23:59:59-07:00", "not_met"),
        ("2026-09-12T09:12:00-07:00", "met"),
    ],
)
def test_a_notice_may_also_come_too_early(at: str, expected: str) -> None:
    assert outcome(notice(earliest="7 day"), changes=told(at)) == expected


@pytest.mark.parametrize(
    ("planned", "alternates", "expected"),
    [
        ("2026-09-14T08:00:00-07:00", None, "met"),
        ("2026-09-11T08:00:00-07:00", ["2026-09-12", "2026-09-14"], "met"),
        ("2026-09-11T08:00:00-07:00", ["2026-09-12", "2026-09-13", "2026-09-14"], "not_met"),
        ("2026-09-11T08:00:00-07:00", [], "not_met"),
        ("2026-09-11T08:00:00-07:00", None, "cant_tell"),
        (None, ["2026-09-14"], "cant_tell"),
    ],
)
def test_a_notice_holds_for_its_day_and_so_many_alternates(
    planned: str | None, alternates: list[str] | None, expected: str
) -> None:
    changes = told("2026-09-08T08:00:00-07:00", planned_at=planned, alternate_dates=alternates)
    assert outcome(notice(alternates="2"), changes=changes) == expected


def test_a_stale_notice_says_its_dates_and_what_to_do() -> None:
    changes = told("2026-09-08T08:00:00-07:00", planned_at="2026-09-11T08:00:00-07:00")
    found = finding(notice(alternates="0"), changes=changes)
    assert found.message.say("en") == (
        "Customer: the notice is stale: it names 2026-09-11, the treatment is on 2026-09-14. Tell them again "
        "with the new date."
    )


@pytest.mark.parametrize(
    ("planned", "expected"),
    [
        ("2026-09-12T09:12:00-07:00", "met"),
        ("2026-09-12T09:11:59-07:00", "not_met"),
        ("2026-09-14T09:12:01-07:00", "not_met"),
        (None, "cant_tell"),
    ],
)
def test_a_notice_may_hold_for_some_hours_from_the_stated_time(planned: str | None, expected: str) -> None:
    """As RCW 17.21.415(5) has it for schools: an application within 48 hours after the stated time."""
    changes = told("2026-09-08T08:00:00-07:00", planned_at=planned)
    assert outcome(notice(valid="48 hour"), changes=changes) == expected


@pytest.mark.parametrize(("means", "expected"), [("door", "met"), ("phone", "not_met"), (None, "cant_tell")])
def test_only_the_means_that_the_law_allows_will_do(means: str | None, expected: str) -> None:
    changes = told("2026-09-08T08:00:00-07:00", means=means)
    assert outcome(notice(means=["letter", "door"]), changes=changes) == expected


def test_a_forbidden_means_is_named_in_words() -> None:
    changes = told("2026-09-08T08:00:00-07:00", means="text-message")
    found = finding(notice(means=["letter", "in-person"]), changes=changes)
    english = found.message.say("en")
    assert "told this way: text message; Example Act 1(a) allows: letter, in person." in english
    assert "avisado así: mensaje de texto" in found.message.say("es")


def two(first: str | None, second: str | None) -> dict[str, Any]:
    (one,) = told("2026-09-08T08:00:00-07:00")["notices"]
    return {"notices": [{**one, "language": first}, {**one, "language": second}]}


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [("en", "es", "met"), ("en", "en", "not_met"), ("en", None, "cant_tell"), ("es", "fr", "not_met")],
)
def test_each_language_asks_for_a_notice_of_its_own(
    first: str | None, second: str | None, expected: str
) -> None:
    assert outcome(notice(languages=["en", "es"]), changes=two(first, second)) == expected


def test_the_missing_language_is_named() -> None:
    found = finding(notice(languages=["en", "es"]), changes=two("en", "en"))
    assert found.message.say("en").startswith("Customer (Spanish): no notice is on the record")


def test_of_several_notices_the_best_one_decides() -> None:
    (late,), (good,) = (
        told("2026-09-14T08:00:00-07:00")["notices"],
        told("2026-09-01T08:00:00-07:00")["notices"],
    )
    assert outcome(notice(), changes={"notices": [late, good]}) == "met"


def test_any_of_several_recipients_will_do() -> None:
    both = notice(to=["customer", "occupant"])
    assert outcome(both, changes=told("2026-09-08T08:00:00-07:00", to="occupant")) == "met"
    assert outcome(both, changes=told("2026-09-08T08:00:00-07:00", to="school")) == "not_met"


def test_no_notices_member_cant_tell_and_an_empty_list_is_not_met() -> None:
    unknown, nothing = (finding(notice(), changes={"notices": none}) for none in (None, []))
    assert (unknown.outcome, unknown.about) == ("cant_tell", ("notices",))
    assert (nothing.outcome, nothing.about) == ("not_met", ("notices",))
    assert "asks for it at least 48 h before the start (by 2026-09-12 09:12)" in nothing.message.say("en")


def test_before_the_work_a_missing_notice_is_still_to_do_with_the_latest_moment() -> None:
    plan = {"timing": {"planned_at": "2026-09-14T09:00:00-07:00"}, "record.result": None, "notices": []}
    found = finding(notice(), changes=plan)
    assert found.outcome == "not_applicable" and found.message.say("en").startswith("Still to do.")
    assert found.as_json("en")["due"] == "2026-09-12T09:00:00-07:00"


def test_without_a_start_or_a_plan_it_cant_tell() -> None:
    changes = {**told("2026-09-08T08:00:00-07:00"), "timing": {"recorded_at": "2026-09-14T10:05:00-07:00"}}
    assert outcome(notice(), changes=changes) == "cant_tell"
    assert finding(notice(valid="48 hour"), changes=changes).about == ("timing.started_at",)
    assert outcome(notice(lead="before"), changes={**changes, "notices": []}) == "not_met"


def per_neighbour(changes: dict[str, Any], context: dict[str, Any], **keys: Any) -> list[Finding]:
    return findings(notice(**{**NEIGHBOURS, **keys}), changes=changes, context=context)


def test_each_neighbour_who_must_be_told_is_judged() -> None:
    found = per_neighbour(
        sheets("2026-09-14T08:00:00-07:00", "2026-09-11T08:00:00-07:00"),
        near({}, {"abutting": False}, {}, {}),
    )
    assert [(one.outcome, one.about) for one in found] == [
        ("not_met", ("notices", "context.neighbours[3]")),
        ("not_met", ("notices[0].sent_at", "context.neighbours[2]")),
        ("met", ("notices[1].sent_at", "context.neighbours[0]")),
    ]
    assert not any("N." in one.message.say("en") for one in found), "a neighbour's name stays in the context"


@pytest.mark.parametrize("name", ["N. 2", "N. 2 ", " n.  2"])
def test_a_notice_with_a_name_is_that_persons(name: str) -> None:
    changes = sheets("2026-09-11T08:00:00-07:00", name=name)
    found = per_neighbour(changes, near({}, {}))
    assert {one.about[-1]: one.outcome for one in found} == {
        "context.neighbours[0]": "not_met",
        "context.neighbours[1]": "met",
    }


@pytest.mark.parametrize(
    ("distance", "expected"),
    [("150", "met"), ("150.1", "not_applicable"), (None, "cant_tell")],
)
def test_the_distance_decides_who_must_be_told(distance: str | None, expected: str) -> None:
    feet = {"value": distance, "unit": "ft"} if distance else None
    (found,) = per_neighbour(sheets("2026-09-11T08:00:00-07:00"), near({"distance": feet}))
    assert found.outcome == expected
    if expected == "cant_tell":
        assert found.about == ("context.neighbours[0].distance",)
        assert found.message.say("en") == "Neighbour 1: can't tell, because this is not stated: Distance."


def test_without_neighbours_nobody_is_told_and_unknown_ones_cant_be_told() -> None:
    (nobody,) = per_neighbour({"notices": []}, {"neighbours": []})
    (unknown,) = per_neighbour({"notices": []}, {"neighbours": None})
    assert nobody.outcome == "not_applicable"
    assert (unknown.outcome, unknown.about) == ("cant_tell", ("context.neighbours",))


def test_a_notice_to_neighbours_that_leaves_out_which_is_for_all_of_them() -> None:
    far = {"distance": {"value": "900", "unit": "ft"}, "abutting": False}
    found = per_neighbour({"notices": []}, near({}, far), whom=None)
    assert [one.about[-1] for one in found] == [f"context.neighbours[{n}]" for n in (0, 1)]


def test_without_the_notices_each_neighbour_is_named() -> None:
    found = per_neighbour({"notices": None}, near({}, {}))
    assert [one.about for one in found] == [("notices", f"context.neighbours[{n}]") for n in (0, 1)]


def test_registered_persons_are_told_by_the_authoritys_register() -> None:
    listed = {"registered_persons": [{"authority": "us-wa", "abutting": True}, {"authority": "us-or"}]}
    whom = {"fact": "item.authority", "is": "us-wa"}
    one = notice(to=["registered-person"], whom=whom, lead="2 hour")
    changes = {"notices": [{"to": "registered-person", "sent_at": "2026-09-14T07:12:00-07:00"}]}
    assert [found.outcome for found in findings(one, changes=changes, context=listed)] == ["met"]


@pytest.mark.parametrize(
    ("at", "on", "expected"),
    [
        ("2026-09-14T09:47:00-07:00", "2026-09-15", "met"),
        ("2026-09-14T09:46:59-07:00", "2026-09-15", "not_met"),
        ("2026-10-14T23:59:59-07:00", "2026-11-15", "met"),
        ("2026-10-15T00:00:00-07:00", "2026-11-15", "not_met"),
    ],
)
def test_a_notice_after_the_work_runs_from_its_end(at: str, on: str, expected: str) -> None:
    assert outcome(notice(after="30 day"), changes=told(at), context={"on": on}) == expected


@pytest.mark.parametrize(
    ("on", "expected"),
    [("2026-10-14", "not_applicable"), ("2026-10-15", "not_met"), (None, "cant_tell")],
)
def test_a_notice_after_the_work_is_not_due_until_then(on: str | None, expected: str) -> None:
    found = finding(notice(after="30 day"), changes={"notices": []}, context={"on": on})
    assert found.outcome == expected
    if expected == "not_applicable":
        assert found.as_json("en")["due"] == "2026-10-14T23:59:59-07:00"


def test_a_notice_after_work_whose_end_is_not_stated_cant_be_told() -> None:
    changes = {"notices": [], "timing.finished_at": None}
    assert finding(notice(after="same day"), changes=changes).about == ("timing.finished_at",)


def test_a_notice_on_the_day_says_so() -> None:
    found = finding(notice(after="same day"), changes=told("2026-09-14T12:00:00-07:00"))
    assert "asks for it on the day of the work, once it is done" in found.message.say("en")


def test_a_notice_to_those_who_ask_is_due_to_nobody_else() -> None:
    asked = notice(on_request="yes", lead="before")
    assert outcome(asked, changes={"notices": []}) == "not_applicable"
    assert outcome(asked, changes=told("2026-09-14T10:00:00-07:00")) == "not_met"


def test_what_a_notice_must_say_is_kept_for_the_printed_one() -> None:
    said = {"en": "address of the work", "es": "dirección del trabajo"}
    (one,) = pack(notice(contents=[said])).rules
    (duty,) = one.all_duties
    assert [words.es for words in duty.kind.contents] == ["dirección del trabajo"]  # type: ignore[attr-defined]


def test_which_neighbours_may_hang_on_an_open_question() -> None:
    whom = {"question": "xx/question/roofs", "is": "yes"}
    (found,) = per_neighbour({"notices": []}, near({}), whom=whom)
    assert (found.outcome, found.about) == ("cant_tell", ("context.determinations",))


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"to": ["neighbour", "customer"]}, "rule/alone"),
        ({"to": ["mayor"]}, "rule/unknown_word"),
        ({"lead": "5 business day"}, "rule/missing_key"),
        ({"lead": "5 business day", "holidays": "xx"}, "rule/unknown_word"),
        ({"lead": "soon"}, "rule/quantity"),
        ({"lead": "1.5 day"}, "rule/bad_duration"),
        ({"after": "30 day", "lead": "2 hour"}, "rule/one_of_keys"),
        ({"means": ["pigeon"]}, "rule/unknown_word"),
        ({"counts": "thought"}, "rule/unknown_word"),
        ({"whom": {"fact": "item.abutting", "is": "yes"}}, "rule/unknown_key"),
        ({"holidays": "us"}, "rule/unknown_key"),
        ({"judges": "people"}, "rule/wrong_subject"),
    ],
)
def test_a_notice_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(notice(**keys))
    assert caught.value.wording_id == wording


def test_a_notice_sets_no_limit() -> None:
    assert check(notice(), changes={"mixes[0].products[0].label.limits": []}).limits == ()


def came_back(at: str | None) -> dict[str, Any]:
    return {"follow_ups": [{"kind": "notice-returned", "at": at}]}


@pytest.mark.parametrize(
    ("means", "returned", "expected"),
    [
        ("letter", "2026-09-13T09:00:00-07:00", "cant_tell"),
        ("letter", "2026-10-13T09:00:00-07:00", "cant_tell"),
        ("letter", "2026-09-11T07:59:59-07:00", "met"),
        ("letter", None, "cant_tell"),
        ("email", "2026-09-13T09:00:00-07:00", "cant_tell"),
        ("text-message", "2026-09-13T09:00:00-07:00", "cant_tell"),
        (None, "2026-09-13T09:00:00-07:00", "cant_tell"),
        ("door", "2026-09-13T09:00:00-07:00", "met"),
        ("phone", "2026-09-13T09:00:00-07:00", "met"),
    ],
)
def test_a_notice_that_may_have_come_back_cant_be_told(
    means: str | None, returned: str | None, expected: str
) -> None:
    changes = told("2026-09-11T08:00:00-07:00", means=means)
    assert outcome(notice(), changes=changes, context=came_back(returned)) == expected


def test_what_came_back_is_a_notice_whose_arrival_is_not_on_the_record_if_there_is_one() -> None:
    sent = {"to": "customer", "means": "letter", "sent_at": "2026-09-11T08:00:00-07:00"}
    arrived = {**sent, "delivered_at": "2026-09-11T18:00:00-07:00"}
    back = came_back("2026-09-13T09:00:00-07:00")
    assert outcome(notice(), changes={"notices": [sent, arrived]}, context=back) == "met"
    found = finding(notice(), changes={"notices": [arrived]}, context=back)
    assert (found.outcome, found.about) == ("cant_tell", ("context.follow_ups[0].at",))
    assert "a notice came back (2026-09-13 09:00)" in found.message.say("en")


def test_a_late_notice_stays_late_though_it_came_back() -> None:
    changes = told("2026-09-13T08:00:00-07:00", means="letter")
    assert outcome(notice(), changes=changes, context=came_back("2026-09-13T09:00:00-07:00")) == "not_met"


def test_a_follow_up_of_no_stated_kind_may_be_a_notice_that_came_back() -> None:
    unsaid = {"follow_ups": [{"at": "2026-09-13T09:00:00-07:00"}]}
    found = finding(notice(), changes=told("2026-09-11T08:00:00-07:00"), context=unsaid)
    assert (found.outcome, found.about) == ("cant_tell", ("context.follow_ups[0].kind",))


def test_what_follows_another_record_says_nothing_of_this_one() -> None:
    other = {"follows": {"id": "22222222-2b11-4f7e-9a53-000000000001"}}
    back = {"follow_ups": [{**came_back("2026-09-13T09:00:00-07:00")["follow_ups"][0], **other}]}
    assert outcome(notice(), changes=told("2026-09-11T08:00:00-07:00"), context=back) == "met"


@pytest.mark.parametrize(
    ("language", "expected"), [("es", "met"), ("es-US", "met"), ("es-MX", "met"), ("est", "not_met")]
)
def test_a_language_may_be_that_of_a_country(language: str, expected: str) -> None:
    rules = notice(languages=["es"])
    assert outcome(rules, changes=told("2026-09-11T08:00:00-07:00", language=language)) == expected


def test_a_notice_that_arrived_before_it_was_sent_cant_be_told() -> None:
    changes = told("2026-09-11T08:00:00-07:00", delivered_at="2026-09-11T07:59:59-07:00")
    found = finding(notice(), changes=changes)
    assert (found.outcome, found.about) == ("cant_tell", ("notices[0].delivered_at", "notices[0].sent_at"))


def test_who_stands_on_a_list_twice_takes_no_notice_from_others() -> None:
    """By hand: two notices tell the two names, and whether B. Lark is one person or two nobody has said."""
    people = near({"name": "B. Lark"}, {"name": "b. lark "}, {"name": "C. Wren"})
    two = sheets("2026-09-11T08:00:00-07:00", "2026-09-11T08:00:00-07:00")
    found = sorted(one.outcome for one in per_neighbour(two, people))
    assert found == ["cant_tell", "met", "met"]
    three = sheets(*["2026-09-11T08:00:00-07:00"] * 3)
    assert {one.outcome for one in per_neighbour(three, people)} == {"met"}
    assert {one.outcome for one in per_neighbour({"notices": []}, people)} == {"not_met"}


def test_who_may_have_to_be_told_cant_be_told_until_they_are() -> None:
    because = {"en": "the block is not on the record", "es": "no consta la manzana"}
    perhaps = {"whom": {"fact": "item.abutting", "is": "no"}, "because": because}
    away = near({"abutting": False})
    (found,) = per_neighbour({"notices": []}, away, perhaps=perhaps)
    assert found.outcome == "cant_tell"
    assert "whether they must be told: the block is not on the record" in found.message.say("en")
    (found,) = per_neighbour(sheets("2026-09-11T08:00:00-07:00"), away, perhaps=perhaps)
    assert found.outcome == "met"
    (found,) = per_neighbour(sheets("2026-09-14T08:00:00-07:00"), away, perhaps=perhaps)
    assert found.outcome == "cant_tell"


def test_a_notice_without_a_name_may_have_been_for_who_perhaps_had_to_be_told() -> None:
    """By hand: one notice, and it is unknown whether the first of two must be told."""
    people = near({"distance": None}, {})
    once = sheets("2026-09-11T08:00:00-07:00")
    by_person = {one.about[-1]: one for one in per_neighbour(once, people)}
    assert {one.outcome for one in by_person.values()} == {"cant_tell"}
    assert "it may have been for somebody else" in by_person["context.neighbours[1]"].message.say("en")
    twice = sheets(*["2026-09-11T08:00:00-07:00"] * 2)
    assert {one.about[-1]: one.outcome for one in per_neighbour(twice, people)} == {
        "context.neighbours[0].distance": "cant_tell",
        "context.neighbours[1]": "met",
    }
