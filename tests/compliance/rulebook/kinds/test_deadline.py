"""Kind deadline: by when a record, copy or notice is due."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import finding, outcome, pack, rule


def recorded(within: str = "same day", after: str = "treatment.day", **keys: Any) -> dict[str, Any]:
    return rule(kind="deadline", stage="after", done="timing.recorded_at", after=after, within=within, **keys)


COPY = rule(
    kind="deadline", stage="after", follow_up="copy-given", after="timing.finished_at", within="30 day"
)


def at(moment: str) -> dict[str, Any]:
    return {"timing.recorded_at": moment}


@pytest.mark.parametrize(
    ("moment", "expected"),
    [
        ("2026-09-14T23:59:59-07:00", "met"),
        ("2026-09-15T00:00:00-07:00", "not_met"),
        ("2026-09-15T06:59:59Z", "met"),
        ("2026-09-15T07:00:00Z", "not_met"),
    ],
)
def test_the_same_day_is_the_local_day_at_the_site(moment: str, expected: str) -> None:
    assert outcome(recorded(), changes=at(moment)) == expected


@pytest.mark.parametrize(
    ("moment", "changes"),
    [
        ("2025-09-14T12:00:00-07:00", {}),
        ("2026-09-14T09:46:59-07:00", {}),
        ("2026-09-14T09:11:59-07:00", {"timing.finished_at": None}),
        (
            "2026-09-13T23:59:59-07:00",
            {"timing": {"planned_at": "2026-09-14T09:00:00-07:00", "recorded_at": "2026-09-13T23:59:59-07:00"}},
        ),
    ],
)
def test_a_record_made_before_the_work_ended_cannot_be_in_time(moment: str, changes: dict[str, Any]) -> None:
    changes = changes if "timing" in changes else changes | at(moment)
    found = finding(recorded(), changes=changes)
    assert (str(found.outcome), found.about) == (
        "cant_tell",
        ("timing.recorded_at", "timing.planned_at" if "timing" in changes else "timing.started_at"),
    )
    assert "before the work ended" in found.message.say("en")
    assert "antes de acabar el trabajo" in found.message.say("es")


def test_a_record_made_after_the_work_in_the_hour_that_comes_twice_is_in_time() -> None:
    times = {"started_at": "2026-11-01T01:00:00-07:00", "finished_at": "2026-11-01T01:30:00-07:00"}
    changes = {"timing": {**times, "recorded_at": "2026-11-01T01:10:00-08:00"}}
    assert outcome(recorded(), changes=changes) == "met"


def test_a_record_made_as_the_work_ends_is_in_time() -> None:
    assert outcome(recorded(), changes=at("2026-09-14T09:47:00-07:00")) == "met"


@pytest.mark.parametrize(
    ("moment", "expected"), [("2026-09-17T09:47:00-07:00", "met"), ("2026-09-17T09:47:01-07:00", "not_met")]
)
def test_hours_run_from_the_moment(moment: str, expected: str) -> None:
    assert outcome(recorded("72 hour", "timing.finished_at"), changes=at(moment)) == expected


@pytest.mark.parametrize(
    ("moment", "expected"), [("2026-09-17T23:59:00-07:00", "met"), ("2026-09-18T00:00:00-07:00", "not_met")]
)
def test_days_run_to_the_end_of_the_last_one(moment: str, expected: str) -> None:
    assert outcome(recorded("3 day"), changes=at(moment)) == expected


def test_hours_are_real_hours_where_the_clocks_change() -> None:
    """Summer time ends in the United States on the first Sunday of November (15 U.S.C. 260a), in 2026 on the
    first: 24 hours after noon of the day before it is eleven o'clock."""
    changes = {
        "timing": {
            "started_at": "2026-10-31T11:30:00-07:00",
            "finished_at": "2026-10-31T12:00:00-07:00",
            "recorded_at": "2026-11-01T11:00:00-08:00",
        }
    }
    late = {**changes, "timing": {**changes["timing"], "recorded_at": "2026-11-01T11:00:01-08:00"}}
    assert outcome(recorded("24 hour", "timing.finished_at"), changes=changes) == "met"
    assert outcome(recorded("24 hour", "timing.finished_at"), changes=late) == "not_met"


def test_a_late_record_says_when_it_was_made_and_when_it_was_due() -> None:
    found = finding(recorded(), changes=at("2026-09-15T08:00:00-07:00"))
    assert found.message.say("en") == (
        "Done 2026-09-15 08:00; Example Act 1(a) wanted it by 2026-09-14 23:59. Say why it was late."
    )
    assert found.as_json("en")["due"] == "2026-09-14T23:59:59-07:00"


@pytest.mark.parametrize(("on", "expected"), [("2026-09-14", "not_applicable"), ("2026-09-15", "cant_tell")])
def test_what_is_not_recorded_is_not_yet_due_and_then_cant_be_told(on: str, expected: str) -> None:
    found = finding(recorded(), changes={"timing.recorded_at": None}, context={"on": on})
    assert (found.outcome, found.about) == (expected, ("timing.recorded_at",))


def test_without_the_day_of_the_check_an_open_deadline_cant_tell() -> None:
    found = finding(recorded(), changes={"timing.recorded_at": None}, context={"on": None})
    assert (found.outcome, found.about) == ("cant_tell", ("timing.recorded_at", "context.on"))


def test_without_the_moment_it_runs_from_it_cant_tell() -> None:
    found = finding(recorded("72 hour", "timing.finished_at"), changes={"timing.finished_at": None})
    assert found.about == ("timing.finished_at",)


@pytest.mark.parametrize(
    ("follow_ups", "on", "expected"),
    [
        ([{"kind": "copy-given", "at": "2026-10-14T12:00:00-07:00"}], "2026-11-01", "met"),
        ([{"kind": "copy-given", "at": "2026-10-15T12:00:00-07:00"}], "2026-11-01", "not_met"),
        (
            [
                {"kind": "copy-given", "at": "2026-10-20T12:00:00-07:00"},
                {"kind": "copy-given", "at": "2026-09-20T12:00:00-07:00"},
            ],
            "2026-11-01",
            "met",
        ),
        ([{"kind": "note", "at": "2026-10-14T12:00:00-07:00"}], "2026-10-14", "not_applicable"),
        ([{"kind": "note", "at": "2026-10-14T12:00:00-07:00"}], "2026-10-15", "not_met"),
        ([{"kind": "copy-given"}], "2026-10-15", "not_met"),
        ([], "2026-10-15", "not_met"),
        (None, "2026-10-15", "cant_tell"),
    ],
)
def test_a_follow_up_shows_that_it_was_done(follow_ups: Any, on: str, expected: str) -> None:
    assert outcome(COPY, context={"follow_ups": follow_ups, "on": on}) == expected


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"within": "soon"}, "rule/quantity"),
        ({"within": "1.5 day"}, "rule/bad_duration"),
        ({"within": "20000 day"}, "rule/bad_duration"),
        ({"within": "72 hour"}, "rule/bad_duration"),
        ({"after": "site.use"}, "rule/not_a_moment"),
        ({"done": "site.use"}, "rule/not_a_moment"),
        ({"follow_up": "copy-given"}, "rule/one_of_keys"),
        ({"done": None, "follow_up": "lunch"}, "rule/unknown_word"),
        ({"judges": "people"}, "rule/wrong_subject"),
    ],
)
def test_a_deadline_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack({key: value for key, value in {**recorded(), **keys}.items() if value is not None})
    assert caught.value.wording_id == wording


OVERNIGHT = {
    "timing": {
        "started_at": "2026-09-14T23:10:00-07:00",
        "finished_at": "2026-09-15T00:10:00-07:00",
        "recorded_at": "2026-09-15T00:25:00-07:00",
    }
}


@pytest.mark.parametrize(
    ("moment", "expected"),
    [
        ("2026-09-15T00:25:00-07:00", "cant_tell"),
        ("2026-09-15T23:59:59-07:00", "cant_tell"),
        ("2026-09-16T00:00:00-07:00", "not_met"),
    ],
)
def test_a_day_of_work_over_midnight_may_be_its_first_or_its_last(moment: str, expected: str) -> None:
    changes = {"timing": {**OVERNIGHT["timing"], "recorded_at": moment}}
    assert outcome(recorded(), changes=changes) == expected
    assert outcome(recorded("1 day"), changes=OVERNIGHT) == "met"


def test_of_work_over_midnight_both_days_are_told() -> None:
    said = finding(recorded(), changes=OVERNIGHT).message
    assert "by 2026-09-14 23:59 if its first day counts, by 2026-09-15 23:59 if its last does" in said.say("en")
    assert "pasó de medianoche" in said.say("es")


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        (["2026-09-01T10:00:00-07:00"], "cant_tell"),
        (["2026-09-14T09:46:59-07:00"], "cant_tell"),
        (["2026-09-14T09:47:00-07:00"], "met"),
        (["2026-09-01T10:00:00-07:00", "2026-09-20T10:00:00-07:00"], "met"),
        (["2026-09-01T10:00:00-07:00", "2026-12-20T10:00:00-08:00"], "not_met"),
    ],
)
def test_a_copy_given_before_the_work_is_none_of_its_record(given: list[str], expected: str) -> None:
    context = {"follow_ups": [{"kind": "copy-given", "at": at} for at in given], "on": "2026-12-24"}
    assert outcome(COPY, context=context) == expected


def test_a_copy_of_another_record_is_none_of_this_one() -> None:
    copy = {"kind": "copy-given", "at": "2026-09-20T10:00:00-07:00"}
    other = {**copy, "follows": {"id": "22222222-2b11-4f7e-9a53-000000000001"}}
    assert outcome(COPY, context={"follow_ups": [copy], "on": "2026-12-24"}) == "met"
    assert outcome(COPY, context={"follow_ups": [other], "on": "2026-12-24"}) == "not_met"


def test_what_came_in_before_it_was_made_cant_be_told() -> None:
    sent = rule(
        kind="deadline", stage="after", done="context.received_at", after="timing.recorded_at", within="24 hour"
    )
    found = finding(sent, context={"received_at": "2026-09-01T10:00:00-07:00"})
    assert (found.outcome, found.about) == ("cant_tell", ("context.received_at", "timing.recorded_at"))
    assert "before what it follows (2026-09-14 10:05)" in found.message.say("en")


UTC = {
    "timing": {
        "started_at": "2026-09-15T01:00:00Z",
        "finished_at": "2026-09-15T01:40:00Z",
        "recorded_at": "2026-09-15T17:00:00Z",
    },
    "site.time_zone": None,
}


@pytest.mark.parametrize(
    ("places", "moment", "expected"),
    [
        (["us", "us-wa"], "2026-09-15T17:00:00Z", "cant_tell"),
        (["us", "us-wa"], "2026-09-15T02:00:00Z", "met"),
        (["us", "us-wa"], "2026-09-16T08:00:00Z", "not_met"),
        (["xx"], "2026-09-15T12:30:00Z", "cant_tell"),
        (["gb"], "2026-09-15T17:00:00Z", "met"),
    ],
)
def test_times_in_utc_at_a_site_without_a_zone_tell_no_day_that_hangs_on_the_clock(
    places: list[str], moment: str, expected: str
) -> None:
    """By hand: 01:00 UTC is 18:00 of the day before in Washington, where 17:00 UTC is the next morning; in
    Great Britain both are on one day."""
    changes = {**UTC, "timing": {**UTC["timing"], "recorded_at": moment}, "site.jurisdictions": places}
    assert outcome(recorded(), changes=changes, place=places[-1]) == expected
