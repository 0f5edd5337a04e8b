"""Kind `notice`: both sides of each lead time, on hand-worked calendars; how long it holds; what it says.

The invented law binds the roof of 14 September 2026, started at 09:12 Pacific daylight time.
"""

from typing import Any

import pytest

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.contents import Content
from compliance.rulebook.errors import RuleError
from compliance.rulebook.kinds.notice import Notice
from compliance.rulebook.pack import read_pack
from shared.wording import Wording
from tests.compliance.rulebook.builders import HEAD, check, finding, outcome, pack
from tests.compliance.rulebook.kinds.told_notices import notice, started, told


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
        "Customer: the notice is stale: it names September 11, 2026, the treatment is on September 14, 2026. "
        "Tell them again with the new date."
    )
    assert "indica el 11 de septiembre de 2026 y el tratamiento es el 14 de" in found.message.say("es")


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


PLACE_OF_WORK = {"is": "place", "en": "address of the work", "es": "dirección del trabajo"}


def contents_of(said: dict[str, Any], archived: bool = False) -> Content:
    rules = {"topic": {"rules": [notice(contents=[said])]}}
    (duty,) = read_pack(HEAD, rules, VOCABULARY, "law", archived).rules[0].all_duties
    assert isinstance(duty.kind, Notice)
    (content,) = duty.kind.contents
    return content


def test_what_a_notice_must_say_is_kept_for_the_printed_one() -> None:
    assert contents_of(PLACE_OF_WORK) == Content(
        "place", Wording("address of the work", "dirección del trabajo")
    )


def test_what_the_law_prints_is_kept_as_it_prints_it() -> None:
    said = {**PLACE_OF_WORK, "is": "statement", "prints": {"en": "Take care.", "es": "Tenga cuidado."}}
    assert contents_of(said).prints == Wording("Take care.", "Tenga cuidado.")


def test_a_content_says_by_which_data_it_is_printed() -> None:
    """An archived pack is from before there were codes: there it is a blank to be filled in."""
    said = {key: value for key, value in PLACE_OF_WORK.items() if key != "is"}
    assert contents_of(said, archived=True).code == "other"
    with pytest.raises(RuleError) as caught:
        contents_of(said)
    assert caught.value.wording_id == "rule/missing_key"


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
        ({"contents": [{**PLACE_OF_WORK, "is": "weather"}]}, "rule/unknown_word"),
        ({"contents": [{**PLACE_OF_WORK, "de": "Ort"}]}, "rule/unknown_key"),
    ],
)
def test_a_notice_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(notice(**keys))
    assert caught.value.wording_id == wording


def test_a_notice_sets_no_limit() -> None:
    assert check(notice(), changes={"mixes[0].products[0].label.limits": []}).limits == ()


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
