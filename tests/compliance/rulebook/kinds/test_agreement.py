"""Kind `agreement`: figures of one document that must go together, each bound worked by hand.

The roof had 1.5 gal of product in 13.5 gal of water, 15 gal mixed, 14 gal applied and 1 gal left over, on a
slope of 1200 square feet in plan at a pitch of 6 in 12, from 09:12 to 09:47 with a rig of 2.2 gal a minute.
"""

from typing import Any

import pytest

from compliance.pack_reader import registered_packs
from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import WIND, check, finding, outcome, pack, rule

MIX = "mixes[0]"
ROOF = "Main roof, north slope"
JUDGED_ON = {"area-within-slope": "surfaces", "stock-and-mixed": "products"}


def figures(name: str, tolerance: str = "2 percent") -> dict[str, Any]:
    return rule(kind="agreement", judges=JUDGED_ON.get(name, "mixes"), figures=name, tolerance=tolerance)


def gallons(value: str) -> dict[str, str]:
    return {"value": value, "unit": "gal"}


def feet(value: str) -> dict[str, str]:
    return {"value": value, "unit": "ft**2"}


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "met"),
        ({f"{MIX}.left_over.amount": gallons("0.7")}, "met"),
        ({f"{MIX}.left_over.amount": gallons("0.699999999")}, "not_met"),
        ({f"{MIX}.left_over.amount": gallons("1.3")}, "met"),
        ({f"{MIX}.left_over.amount": gallons("1.300000001")}, "not_met"),
        ({f"{MIX}.left_over.amount": None}, "not_applicable"),
        ({f"{MIX}.left_over": {"disposition": "none"}}, "not_met"),
        ({f"{MIX}.left_over": {"disposition": "none"}, f"{MIX}.applied": gallons("15")}, "met"),
        ({f"{MIX}.left_over": None}, "not_applicable"),
        ({f"{MIX}.applied": None}, "not_applicable"),
        ({f"{MIX}.diluent": None}, "not_applicable"),
        ({f"{MIX}.applied": {"value": "100", "unit": "lb"}}, "not_applicable"),
        ({f"{MIX}.left_over.surface": ROOF, f"{MIX}.applied": gallons("15")}, "met"),
    ],
)
def test_applied_and_left_over_are_what_was_mixed(changes: dict[str, Any], expected: str) -> None:
    """Two percent of 15 gal are 0.3 gal."""
    assert outcome(figures("applied-and-left-over"), changes=changes) == expected


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "met"),
        ({f"{MIX}.surfaces[0].applied": gallons("12")}, "not_met"),
        ({f"{MIX}.surfaces[0].applied": None}, "not_applicable"),
        ({f"{MIX}.surfaces": None}, "not_applicable"),
        ({f"{MIX}.applied": gallons("0")}, "not_met"),
    ],
)
def test_the_surfaces_together_got_what_was_applied(changes: dict[str, Any], expected: str) -> None:
    assert outcome(figures("surfaces-and-applied"), changes=changes) == expected


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "met"),
        ({f"{MIX}.loads[0].volume": {"value": "60", "unit": "qt"}}, "met"),
        ({f"{MIX}.loads[0].volume": gallons("16")}, "not_met"),
        ({f"{MIX}.loads[1]": {"batch": "B-1"}}, "not_applicable"),
        ({f"{MIX}.loads[1]": {"volume": {"value": "1", "unit": "lb"}}}, "not_applicable"),
        ({f"{MIX}.loads": []}, "not_applicable"),
        (
            {f"{MIX}.diluent": None, f"{MIX}.form": "ready-to-use", f"{MIX}.loads[0].volume": gallons("1.5")},
            "met",
        ),
    ],
)
def test_the_loads_together_are_what_was_mixed(changes: dict[str, Any], expected: str) -> None:
    assert outcome(figures("loads-and-mixed"), changes=changes) == expected


@pytest.mark.parametrize(("applied", "expected"), [("15.3", "met"), ("15.31", "not_met"), ("1", "met")])
def test_no_more_is_applied_than_was_mixed(applied: str, expected: str) -> None:
    changes = {f"{MIX}.applied": gallons(applied)}
    assert outcome(figures("applied-within-mixed"), changes=changes) == expected


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"surfaces[0].treated_area": feet("1341.64")}, "met"),
        ({"surfaces[0].treated_area": feet("1341.65")}, "not_met"),
        ({"surfaces[0].treated_area": feet("100")}, "met"),
        ({"surfaces[0].pitch": {"rise": "6", "run": "0"}}, "not_applicable"),
        ({"surfaces[0].pitch": None}, "not_applicable"),
        ({"surfaces[0].pitch": None, "surfaces[0].kind": "walk"}, "not_met"),
        ({"surfaces[0].plan_area": None}, "not_applicable"),
        ({"surfaces[0].treated_area": None}, "not_applicable"),
    ],
)
def test_no_more_is_treated_than_the_slope_has(changes: dict[str, Any], expected: str) -> None:
    """1200 x sqrt(1 + (6/12)^2) = 1200 x 1.1180339887 = 1341.6407865 square feet."""
    assert outcome(figures("area-within-slope", "0 percent"), changes=changes) == expected


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "met"),
        ({"timing.finished_at": "2026-09-14T09:18:22-07:00"}, "met"),
        ({"timing.finished_at": "2026-09-14T09:18:21-07:00"}, "not_met"),
        ({"timing.pauses": [{"started_at": "2026-09-14T09:15:00-07:00"}]}, "met"),
        (
            {
                "timing.pauses": [
                    {"started_at": "2026-09-14T09:15:00-07:00", "finished_at": "2026-09-14T09:45:00-07:00"}
                ]
            },
            "not_met",
        ),
        ({"timing.finished_at": None}, "not_applicable"),
        ({"timing": {"planned_at": "2026-09-14T09:00:00-07:00"}}, "not_applicable"),
        ({"timing": None}, "not_applicable"),
        ({"equipment[0].flow": None}, "not_applicable"),
        ({"equipment[0].flow": {"value": "0", "unit": "gal/min"}}, "not_applicable"),
        ({"equipment": [], f"{MIX}.equipment": None}, "not_applicable"),
        ({f"{MIX}.equipment": None}, "met"),
        ({f"{MIX}.applied": {"value": "3", "unit": "lb"}}, "not_applicable"),
    ],
)
def test_a_rig_needs_its_time(changes: dict[str, Any], expected: str) -> None:
    """14 gal at 2.2 gal a minute take 6.3636 minutes, 6 min 21.8 s."""
    assert outcome(figures("time-and-flow", "0 percent"), changes=changes) == expected


@pytest.mark.parametrize(
    ("stock", "expected"),
    [
        ([{"lot": "L-0457", "on_hand": gallons("1.5")}], "met"),
        ([{"lot": "L-1", "on_hand": gallons("0")}, {"lot": "L-0457", "on_hand": gallons("1.49")}], "not_met"),
        ([{"lot": "L-0457"}], "not_applicable"),
        ([], "not_applicable"),
        (None, "not_applicable"),
    ],
)
def test_no_more_is_mixed_of_a_lot_than_there_is(stock: Any, expected: str) -> None:
    context = {} if stock is None else {"stock": stock}
    assert outcome(figures("stock-and-mixed", "0 percent"), context=context) == expected


def test_figures_that_disagree_are_said_side_by_side() -> None:
    found = finding(figures("applied-and-left-over"), changes={f"{MIX}.left_over.amount": gallons("4")})
    assert found.message.say("en") == (
        "Applied and left over, and what was mixed: 18 gal against 15 gal, a difference of 20 % where 2 % is "
        "allowed for. Check the figures; if they are right, say why on the record."
    )
    assert "18 gal frente a 15 gal, una diferencia del 20 %" in found.message.say("es")
    assert found.about[:2] == (f"{MIX}.applied", f"{MIX}.left_over.amount")
    stated = found.as_json("en")
    assert (stated["observed"], stated["bound"]) == (gallons("18"), gallons("15"))


def test_a_difference_of_too_many_digits_is_told_in_words() -> None:
    """999,999,999,999 gal over a thousandth of one."""
    found = finding(
        figures("applied-within-mixed"),
        changes={
            f"{MIX}.applied": gallons("999999999999"),
            f"{MIX}.products[0].amount": gallons("0.001"),
            f"{MIX}.diluent.amount": gallons("0"),
        },
    )
    assert "a difference of more than 999999999999 % where" in found.message.say("en")


def test_times_are_said_in_minutes_and_seconds() -> None:
    found = finding(figures("time-and-flow"), changes={"timing.finished_at": "2026-09-14T09:14:30-07:00"})
    assert "6 min 21 s against 2 min 30 s" in found.message.say("en")


CALM = {
    "some": "weather.readings",
    "has": {
        "all": [{"fact": "item.calm", "is": "yes"}, {"fact": "item.wind_speed", "at least": "1 mph"}],
    },
}
BOTH = {"en": "Calm and windy at once.", "es": "En calma y con viento a la vez."}


@pytest.mark.parametrize(
    ("reading", "expected"),
    [
        ({"calm": True, "wind_speed": {"value": "4", "unit": "mph"}}, "not_met"),
        ({"calm": True, "wind_speed": {"value": "0", "unit": "mph"}}, "met"),
        ({"calm": False, "wind_speed": {"value": "4", "unit": "mph"}}, "met"),
        ({"calm": False}, "met"),
        ({"calm": True}, "not_applicable"),
        ({"wind_speed": {"value": "4", "unit": "mph"}}, "not_applicable"),
    ],
)
def test_what_cant_both_be_so_is_told(reading: dict[str, Any], expected: str) -> None:
    one = {"at": "2026-09-14T09:20:00-07:00", **reading}
    found = finding(rule(kind="agreement", never=CALM, says=BOTH), changes={"weather.readings": [one]})
    assert found.outcome == expected
    if expected == "not_met":
        assert found.message.say("en").startswith("Calm and windy at once. Check the figures;")


def test_every_record_is_set_against_itself_and_must_not_hide_from_the_rules() -> None:
    """The pack of any place needs no jurisdiction, and makes no place a covered one. Required is only what
    would keep other rules from being asked."""
    (everywhere,) = [one for one in registered_packs() if one.place == "any"]
    assert everywhere.layer == "record"
    required = {one.id for one in everywhere.rules if one.level == "required"}
    assert required == {
        "everywhere/stood-down/nothing-done",
        "everywhere/agreement/kind",
        "everywhere/agreement/active",
        "everywhere/agreement/no-pesticide",
        "everywhere/agreement/exempt-registered",
        "everywhere/agreement/indoors",
    }
    found = check(rule(**WIND), place="any", changes={"site.jurisdictions": None})
    assert {one.rule for one in found.findings} >= {"xx/wind", "rulebook/places"}
    elsewhere = check(rule(**WIND), place="any", changes={"site.jurisdictions": ["aq"]})
    assert (elsewhere.not_covered, elsewhere.outcome) == (("aq",), "cant_tell")


def test_both_forms_can_give_the_same_outcomes() -> None:
    (pair,), (never,) = (
        pack(one).rules for one in (figures("loads-and-mixed"), rule(kind="agreement", never=CALM, says=BOTH))
    )
    assert pair.possible() == never.possible() == {"met", "not_met", "not_applicable"}


def test_a_contradiction_that_leaves_open_what_is_asked_is_no_breach() -> None:
    one = {"at": "2026-09-14T09:20:00-07:00", "calm": True, "wind_speed": {"value": "4", "unit": "mph"}}
    raw = rule(kind="agreement", never=CALM, says=BOTH, leaves_open="yes")
    found = finding(raw, changes={"weather.readings": [one]})
    assert found.outcome == "cant_tell"
    assert found.message.say("en").startswith("Can't tell: Calm and windy at once.")
    (only,) = pack(raw).rules
    assert only.possible() == {"met", "cant_tell", "not_applicable"}


def test_without_mixes_nothing_is_set_against_anything() -> None:
    found = finding(figures("loads-and-mixed"), changes={"mixes": []})
    assert (found.outcome, found.about) == ("not_applicable", ("mixes",))


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"figures": "everything"}, "rule/unknown_word"),
        ({"judges": "products"}, "rule/wrong_subject"),
        ({"tolerance": "2 gal"}, "rule/quantity"),
        ({"tolerance": None}, "rule/missing_key"),
        ({"never": CALM}, "rule/one_of_keys"),
        ({"figures": None, "tolerance": None, "judges": "document", "never": CALM}, "rule/missing_key"),
    ],
)
def test_an_agreement_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    raw = {key: value for key, value in {**figures("loads-and-mixed"), **keys}.items() if value is not None}
    with pytest.raises(RuleError) as caught:
        pack(raw)
    assert caught.value.wording_id == wording
