"""Kind `posting`: how large a sign is, by when it stands, how long it stays.

The invented law binds the roof of 14 September 2026, started at 09:12 and finished at 09:47.
"""

from fractions import Fraction
from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from compliance.rulebook.kinds.posting import Posting
from compliance.rulebook.sign import Line
from tests.compliance.rulebook.builders import finding, outcome, pack, rule

IN_DOUBT = {"kept": "1 day", "kept_in_doubt": "yes"}
FEET = {"value": "1", "unit": "ft"}


def posting(**keys: Any) -> dict[str, Any]:
    size = {"width": "5 inch", "height": "4 inch"}
    base = {"id": "xx/sign", "kind": "posting", "stage": "during", "lead": "before", "size": size}
    return rule(**{**base, **keys})


def sign(width: str | None = "5", height: str | None = "4", unit: str = "inch", **more: Any) -> dict[str, Any]:
    sides = {
        name: {"value": side, "unit": unit} for name, side in (("width", width), ("height", height)) if side
    }
    return {"where": "front walk", **sides, "posted_at": "2026-09-14T08:45:00-07:00", **more}


@pytest.mark.parametrize(
    ("stands", "expected"),
    [
        (sign(), "met"),
        (sign("12.7", "10.16", "cm"), "met"),
        (sign("12.69", "10.16", "cm"), "not_met"),
        (sign("5", "3.9"), "not_met"),
        (sign("4", "5"), "not_met"),
        (sign(None), "cant_tell"),
    ],
)
def test_a_sign_is_at_least_as_wide_and_as_high_as_the_law_wants(stands: Any, expected: str) -> None:
    """5 in is 12.7 cm and 4 in is 10.16 cm exactly (NIST SP 811, B.8: 1 in = 2.54 cm)."""
    assert outcome(posting(), changes={"postings": [stands]}) == expected


def test_a_sign_may_be_turned_where_the_law_lets_it() -> None:
    either = {"width": "5 inch", "height": "4 inch", "either_way": "yes"}
    assert outcome(posting(size=either), changes={"postings": [sign("4", "5")]}) == "met"
    assert outcome(posting(size=either), changes={"postings": [sign("4", "4")]}) == "not_met"


def test_a_small_sign_is_told_with_both_sizes() -> None:
    found = finding(posting(), changes={"postings": [sign("4", "3")]})
    assert found.message.say("en") == (
        "The sign at 'front walk' is 4 in × 3 in (width × height); Example Act 1(a) asks for at least 5 in × "
        "4 in. Put up a larger one."
    )
    assert "mide 4 pulgadas × 3 pulgadas (ancho × alto)" in found.message.say("es")
    assert found.about == ("postings[0].width", "postings[0].height")


@pytest.mark.parametrize(
    ("at", "lead", "expected"),
    [
        ("2026-09-14T09:12:00-07:00", "before", "met"),
        ("2026-09-14T09:12:01-07:00", "before", "not_met"),
        ("2026-09-14T09:47:00-07:00", "at the time", "met"),
        ("2026-09-14T09:47:01-07:00", "at the time", "not_met"),
        ("2026-09-13T09:12:00-07:00", "24 hour", "met"),
        ("2026-09-13T09:12:01-07:00", "24 hour", "not_met"),
        (None, "before", "cant_tell"),
    ],
)
def test_a_sign_stands_in_time(at: str | None, lead: str, expected: str) -> None:
    assert outcome(posting(lead=lead), changes={"postings": [sign(posted_at=at)]}) == expected


def test_a_late_sign_says_when_it_went_up() -> None:
    found = finding(posting(), changes={"postings": [sign(posted_at="2026-09-14T09:30:00-07:00")]})
    assert found.message.say("en") == (
        "The sign at 'front walk' went up 2026-09-14 09:30; Example Act 1(a) asks for it before the start."
    )


def test_while_the_end_is_not_stated_a_sign_put_up_after_the_start_cant_be_told() -> None:
    changes = {"postings": [sign(posted_at="2026-09-14T09:30:00-07:00")], "timing.finished_at": None}
    assert finding(posting(lead="at the time"), changes=changes).about == ("timing.finished_at",)


def test_no_postings_member_cant_tell_and_an_empty_list_is_not_met() -> None:
    unknown, nothing = (finding(posting(), changes={"postings": none}) for none in (None, []))
    assert (unknown.outcome, unknown.about) == ("cant_tell", ("postings",))
    assert (nothing.outcome, nothing.about) == ("not_met", ("postings",))
    assert nothing.message.say("en").startswith(
        "Signs on the record: 0; Example Act 1(a) asks for at least 1 before the start, at the site."
    )


def test_before_the_work_a_missing_sign_is_still_to_do() -> None:
    plan = {"timing": {"planned_at": "2026-09-14T09:00:00-07:00"}, "record.result": None, "postings": []}
    found = finding(posting(), changes=plan)
    assert (found.outcome, found.as_json("en")["due"]) == ("not_applicable", "2026-09-14T09:00:00-07:00")


@pytest.mark.parametrize(
    ("stand", "expected"),
    [
        ([sign(), sign()], "met"),
        ([sign()], "not_met"),
        ([sign(), sign("3")], "not_met"),
        ([sign(), sign(None)], "cant_tell"),
        ([sign(), sign(None), sign("3")], "cant_tell"),
        ([sign(), sign(), sign("3")], "met"),
    ],
)
def test_enough_of_the_signs_must_be_right(stand: list[Any], expected: str) -> None:
    assert outcome(posting(least="2"), changes={"postings": stand}) == expected


def test_a_sign_without_a_place_is_named_by_a_question_mark() -> None:
    found = finding(posting(), changes={"postings": [sign("3", where=None)]})
    assert found.message.say("en").startswith("The sign at '?' is 3 in")


def removed(at: str | None) -> dict[str, Any]:
    gone = [{"kind": "note", "at": "2026-09-14T10:00:00-07:00"}, {"kind": "sign-removed", "at": at}]
    return {"follow_ups": gone, "on": "2026-09-20"}


@pytest.mark.parametrize(
    ("kept_from", "at", "expected"),
    [
        (None, "2026-09-15T09:47:00-07:00", "met"),
        (None, "2026-09-15T09:46:59-07:00", "not_met"),
        ("posting", "2026-09-15T09:12:00-07:00", "met"),
        ("posting", "2026-09-15T09:11:59-07:00", "not_met"),
    ],
)
def test_a_sign_stays_for_its_hours(kept_from: str | None, at: str, expected: str) -> None:
    kept = posting(kept="24 hour", kept_from=kept_from)
    assert outcome(kept, changes={"postings": [sign()]}, context=removed(at)) == expected


@pytest.mark.parametrize(
    ("follow_up", "lacking"),
    [
        ({"kind": "sign-removed"}, "at"),
        ({"at": "2026-09-14T18:00:00-07:00"}, "kind"),
        ({"at": "2026-09-15T09:47:00-07:00"}, None),
    ],
)
def test_a_follow_up_that_may_say_that_a_sign_came_down_too_soon_cant_be_told(
    follow_up: Any, lacking: str | None
) -> None:
    context = {"follow_ups": [follow_up]}
    found = finding(posting(kept="24 hour"), changes={"postings": [sign()]}, context=context)
    assert found.outcome == ("cant_tell" if lacking else "met")
    assert found.about == (f"context.follow_ups[0].{lacking}" if lacking else "postings[0].posted_at",)


def test_a_sign_that_may_have_gone_up_later_may_have_come_down_too_soon() -> None:
    kept = posting(kept="24 hour", kept_from="posting")
    unsure = {"postings": [sign(), {**sign(), "posted_at": None}]}
    found = finding(kept, changes=unsure, context=removed("2026-09-15T09:12:00-07:00"))
    assert (found.outcome, found.about) == ("cant_tell", ("postings[1].posted_at",))
    assert outcome(kept, changes=unsure, context={"follow_ups": []}) == "met"


def test_a_sign_that_came_down_too_soon_is_told_with_both_moments() -> None:
    found = finding(
        posting(kept="24 hour"),
        changes={"postings": [sign()]},
        context=removed("2026-09-14T18:00:00-07:00"),
    )
    assert found.message.say("en") == (
        "A sign came down 2026-09-14 18:00; Example Act 1(a) wants it to stay until 2026-09-15 09:47. Put it "
        "up again, or say why."
    )
    assert found.about == ("context.follow_ups[1].at",)


def test_a_sign_that_nobody_took_down_still_stands() -> None:
    kept = posting(kept="24 hour")
    found = finding(kept, changes={"postings": [sign()]}, context={"follow_ups": []})
    assert found.outcome == "met" and "They stay until 2026-09-15 09:47." in found.message.say("en")
    unfinished = {"postings": [sign()], "timing.finished_at": None}
    assert outcome(kept, changes=unfinished, context={"follow_ups": []}) == "met"
    assert finding(kept, changes=unfinished, context=removed("2026-09-14T18:00:00-07:00")).about == (
        "timing.finished_at",
    )
    assert finding(kept, changes={"postings": [sign()]}, context={"follow_ups": None}).about == (
        "context.follow_ups",
    )


def test_a_sign_that_went_up_days_before_stays_for_its_hours_from_the_start() -> None:
    kept = posting(kept="24 hour", kept_from="posting")
    early = {"postings": [sign(posted_at="2026-09-12T08:45:00-07:00")]}
    found = finding(kept, changes=early, context={"follow_ups": []})
    said = found.message.say("en")
    assert "They stay until 2026-09-15 09:12. They went up before the work began" in said
    at_the_start = {"postings": [sign(posted_at="2026-09-14T09:12:00-07:00")]}
    assert "before the work began" not in finding(kept, changes=at_the_start, context={}).message.say("en")


@pytest.mark.parametrize(
    ("changes", "until"),
    [
        ({}, "2026-09-15 09:47"),
        ({"timing.reentry_at": "2026-09-16T10:00:00-07:00"}, "2026-09-16 10:00"),
        ({"timing.reentry_at": "2026-09-14T12:00:00-07:00"}, "2026-09-15 09:47"),
    ],
)
def test_a_sign_stays_as_long_as_people_must_stay_out(changes: dict[str, Any], until: str) -> None:
    kept = posting(kept="24 hour", or_reentry="yes")
    found = finding(kept, changes={"postings": [sign()], **changes}, context={"follow_ups": []})
    assert f"They stay until {until}." in found.message.say("en")


@pytest.mark.parametrize(
    ("keys", "at", "expected", "wording"),
    [
        ({}, "2026-09-14T09:11:59-07:00", "not_met", "posting/gone"),
        ({}, "2026-09-14T09:12:00-07:00", "cant_tell", "posting/how_long"),
        ({}, "2026-10-14T09:12:00-07:00", "cant_tell", "posting/how_long"),
        ({"kept": "the work"}, "2026-09-14T09:46:59-07:00", "not_met", "posting/removed"),
        ({"kept": "the work"}, "2026-09-14T09:47:00-07:00", "met", "posting/kept"),
        (IN_DOUBT, "2026-09-14T09:11:00-07:00", "not_met", "posting/gone"),
        (IN_DOUBT, "2026-09-15T20:00:00-07:00", "cant_tell", "posting/perhaps"),
        (IN_DOUBT, "2026-09-16T00:00:00-07:00", "met", "posting/kept"),
        ({"kept": "24 hour"}, "2026-09-14T09:00:00-07:00", "not_met", "posting/gone"),
        ({"kept": "24 hour"}, "2026-09-14T08:30:00-07:00", "cant_tell", "posting/another"),
    ],
)
def test_a_sign_that_came_down_is_judged_by_what_is_known_of_its_stay(
    keys: dict[str, str], at: str, expected: str, wording: str
) -> None:
    """The sign went up at 08:45."""
    found = finding(posting(**keys), changes={"postings": [sign()]}, context=removed(at))
    assert (found.outcome, found.wording) == (expected, wording)


def test_of_two_signs_one_may_have_come_down_before_the_work() -> None:
    two = {"postings": [sign(), sign()]}
    gone = removed("2026-09-14T09:00:00-07:00")
    assert outcome(posting(), changes=two, context=gone) == "cant_tell"
    assert outcome(posting(least="2"), changes=two, context=gone) == "not_met"


def test_whether_follow_ups_were_asked_for_decides_where_no_stay_is_known() -> None:
    found = finding(posting(), changes={"postings": [sign()]}, context={"follow_ups": None})
    assert (found.outcome, found.about) == ("cant_tell", ("context.follow_ups",))


@pytest.mark.parametrize("limits", [None, [{"of": "reentry"}]])
def test_while_a_label_may_keep_people_out_for_longer_it_cant_be_told_how_long_a_sign_stays(
    limits: Any,
) -> None:
    kept = posting(kept="24 hour", or_reentry="yes")
    label = "mixes[0].products[0].label.limits"
    changes = {"postings": [sign()], "timing.reentry_at": None, label: limits}
    found = finding(kept, changes=changes, context=removed("2026-09-15T10:00:00-07:00"))
    assert (found.outcome, found.about) == ("cant_tell", (label,))
    nobody_out = {**changes, label: []}
    assert outcome(kept, changes=nobody_out, context=removed("2026-09-15T10:00:00-07:00")) == "met"
    assert outcome(kept, changes=changes, context=removed("2026-09-15T09:00:00-07:00")) == "not_met"


def test_where_the_signs_stand_is_said_not_to_be_judged() -> None:
    access = {"en": "at each access", "es": "en cada acceso"}
    found = finding(posting(place=access, spacing="50 ft"), changes={"postings": [sign()]})
    assert found.message.say("en").endswith(
        "Not shown by a record: that one stands at each access and that they stand no further than 50 ft apart."
    )
    assert "que haya uno en cada acceso y que no disten más de 50 pies" in found.message.say("es")


def test_without_a_size_any_sign_will_do() -> None:
    assert outcome(posting(size=None), changes={"postings": [sign(None, None)]}) == "met"


def test_the_look_of_a_sign_is_kept_for_the_printed_one() -> None:
    """A point is 1/72 inch: 36 points are half an inch."""
    words = {"en": "black", "es": "negro"}
    lines = [
        {"words": "PESTICIDE APPLICATION", "letters": "36 pt", "bold": "yes"},
        {"says": {"en": "date", "es": "fecha"}, "letters": "0.25 inch"},
    ]
    look = {"print": words, "symbol_size": "2 inch", "only_these_words": "yes", "lines": lines}
    (one,) = pack(posting(sign=look)).rules
    (duty,) = one.all_duties
    read = duty.kind.sign  # type: ignore[attr-defined]
    assert [line.letters.to("inch") for line in read.lines] == [Fraction(1, 2), Fraction(1, 4)]
    assert (read.lines[0].words, read.lines[1].says.es, read.print.es) == (
        "PESTICIDE APPLICATION",
        "fecha",
        "negro",
    )
    assert read.only_these_words and read.lines[0].bold and not read.lines[1].bold


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"lead": None}, "rule/missing_key"),
        ({"after": "2 hour"}, "rule/unknown_key"),
        ({"size": {"width": "5 inch"}}, "rule/missing_key"),
        ({"size": {"width": "5 gal", "height": "4 inch"}}, "rule/quantity"),
        ({"kept_from": "posting"}, "rule/unknown_key"),
        ({"sign": {"lines": [{"words": "A", "says": {"en": "b", "es": "c"}}]}}, "rule/one_of_keys"),
        ({"sign": {"smell": "no"}}, "rule/unknown_key"),
        ({"least": "some"}, "rule/not_a_count"),
    ],
)
def test_a_posting_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(posting(**keys))
    assert caught.value.wording_id == wording


def lines_of(*lines: dict[str, Any]) -> tuple[Line, ...]:
    (one,) = pack(posting(sign={"lines": list(lines)})).rules
    kind = one.all_duties[0].kind
    assert isinstance(kind, Posting)
    assert kind.sign
    return kind.sign.lines


DATE = {"en": "the date", "es": "la fecha"}


def test_a_line_of_a_sign_says_what_is_filled_in() -> None:
    plain, dated, formed, behind = lines_of(
        {"says": DATE},
        {"says": DATE, "is": "date"},
        {"says": DATE, "form": "Applied on {date} by {firm}"},
        {"words": "KEEP OFF", "back": "yes"},
    )
    assert (plain.code, dated.code, formed.form) == ("other", "date", "Applied on {date} by {firm}")
    assert [one.back for one in (plain, dated, formed, behind)] == [False, False, False, True]


@pytest.mark.parametrize(
    ("line", "wording"),
    [
        ({"says": DATE, "is": "weather"}, "rule/unknown_word"),
        ({"says": DATE, "form": "by {nobody}"}, "rule/unknown_word"),
        ({"words": "KEEP OFF", "is": "date"}, "rule/unknown_key"),
    ],
)
def test_a_line_that_no_data_can_fill_is_refused(line: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        lines_of(line)
    assert caught.value.wording_id == wording
