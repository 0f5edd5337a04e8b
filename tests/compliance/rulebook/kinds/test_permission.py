"""Kind permission: a treatment that is barred, or needs a permit's number, for this regime and surface."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import check, finding, findings, outcome, pack, rule

LINE = "mixes[0].products[0]"
BARRED = rule(
    kind="permission", judges="products", stage="before", regimes=["pesticide"], surfaces=["roof"], barred="yes"
)
PERMIT = rule(
    kind="permission", judges="products", stage="before", regimes=["pesticide"], surfaces=["roof"], permit="xx"
)
NUMBERED = {"permits": [{"authority": "xx", "number": "X-1"}]}
HELD: dict[str, Any] = {
    "authority": "xx",
    "number": "X-1",
    "surfaces": ["roof"],
    "valid_from": "2026-01-01",
    "valid_to": "2026-12-31",
}


def held(**changes: Any) -> dict[str, Any]:
    return {"permits": [{key: value for key, value in {**HELD, **changes}.items() if value is not None}]}


def test_what_is_barred_is_not_to_be_treated_with_a_product_of_that_law() -> None:
    found = finding(BARRED)
    assert (found.outcome, found.about) == ("not_met", ("surfaces[0].kind", f"{LINE}.regime"))
    assert found.message.say("en") == (
        "Sample Moss Wash: Barred by Example Act 1(a) for a product sold as pesticide: Main roof, north slope "
        "(roof). Do not treat it with this."
    )
    assert found.message.say("es").endswith("No lo trate con esto.")


def test_what_is_barred_is_said_in_the_plan_and_not_as_still_to_do() -> None:
    planned = {"record.result": None, "timing": {"planned_at": "2026-09-14T09:00:00-07:00"}}
    found = finding(BARRED, changes=planned)
    assert (found.outcome, found.to_do) == ("not_met", False)


@pytest.mark.parametrize("one", [BARRED, PERMIT])
def test_a_product_line_of_another_law_is_not_judged_and_it_says_why(one: dict[str, Any]) -> None:
    found = finding(one, changes={f"{LINE}.regime": "biocide"})
    assert (found.outcome, found.about) == ("not_applicable", (f"{LINE}.regime",))
    assert "falls under another law: biocide" in found.message.say("en")


@pytest.mark.parametrize("one", [BARRED, PERMIT])
def test_a_line_that_goes_on_no_such_surface_is_not_judged_and_it_says_why(one: dict[str, Any]) -> None:
    found = finding(one, changes={"surfaces[0].kind": "wall", f"{LINE}.regime": None})
    assert (found.outcome, found.about) == ("not_applicable", ("surfaces[0].kind",))
    assert "goes on none of these: roof" in found.message.say("en")


@pytest.mark.parametrize("one", [BARRED, PERMIT])
@pytest.mark.parametrize(
    ("changes", "about"),
    [
        ({f"{LINE}.regime": None}, (f"{LINE}.regime",)),
        ({"surfaces[0].kind": None}, ("surfaces[0].kind",)),
        ({"mixes[0].surfaces": []}, ("mixes[0].surfaces",)),
        ({"surfaces": None, "mixes[0].surfaces": None}, ("surfaces",)),
    ],
    ids=["regime", "kind", "no surface", "surfaces"],
)
def test_without_regime_or_kind_of_surface_nobody_can_tell(
    one: dict[str, Any], changes: dict[str, Any], about: tuple[str, ...]
) -> None:
    found = finding(one, changes=changes)
    assert (found.outcome, found.about) == ("cant_tell", about)


def test_each_product_line_is_judged_by_its_own_law() -> None:
    other = {"name": "Sample Killer", "regime": "pesticide"}
    lines = {f"{LINE}.regime": "biocide", "mixes[0].products[1]": other}
    assert [found.outcome for found in findings(BARRED, changes=lines)] == ["not_met", "not_applicable"]


def test_no_number_on_the_record_is_not_met_and_says_to_enter_it_or_leave_it() -> None:
    for given in ({}, {"permits": None}, {"permits": [{"authority": "yy", "number": "Y-1"}]}):
        found = finding(PERMIT, changes=given)
        assert (found.outcome, found.about) == ("not_met", ("permits",))
    assert found.message.say("en").endswith(
        "and the record names none. Enter the permit's number, or do not treat it."
    )
    bare = finding(PERMIT, changes={"permits": [{"authority": "xx"}]})
    assert (bare.outcome, bare.about) == ("not_met", ("permits[0].number",))


def test_in_the_plan_a_permit_is_still_to_do() -> None:
    planned = {"record.result": None, "timing": {"planned_at": "2026-09-14T09:00:00-07:00"}}
    assert finding(PERMIT, changes=planned).to_do


@pytest.mark.parametrize(
    ("changes", "expected", "about"),
    [
        ({}, "met", ("permits",)),
        ({"valid_from": "2026-09-14", "valid_to": "2026-09-14"}, "met", ("permits",)),
        ({"valid_to": "2026-09-13"}, "not_met", ("permits", "context.permits[0].valid_to")),
        ({"valid_from": "2026-09-15"}, "not_met", ("permits", "context.permits[0].valid_from")),
        ({"surfaces": ["walk"]}, "not_met", ("permits", "context.permits[0].surfaces")),
        ({"surfaces": []}, "not_met", ("permits", "context.permits[0].surfaces")),
        ({"valid_to": None}, "cant_tell", ("context.permits[0].valid_to",)),
        ({"surfaces": None}, "cant_tell", ("context.permits[0].surfaces",)),
        ({"number": "X-2"}, "cant_tell", ("context.permits",)),
        ({"authority": "yy"}, "cant_tell", ("context.permits",)),
    ],
)
def test_a_permit_covers_its_surfaces_on_its_days_and_both_days_count(
    changes: dict[str, Any], expected: str, about: tuple[str, ...]
) -> None:
    found = finding(PERMIT, changes=NUMBERED, context=held(**changes))
    assert (found.outcome, found.about) == (expected, about)


def test_a_permit_of_which_the_context_says_nothing_cant_be_told() -> None:
    for context in ({"permits": None}, {"permits": []}):
        found = finding(PERMIT, changes=NUMBERED, context=context)
        assert (found.outcome, found.about) == ("cant_tell", ("context.permits",))
    assert "ask the office" in found.message.say("en")


def test_a_number_whose_authority_is_not_stated_may_be_the_permit() -> None:
    found = finding(PERMIT, changes={"permits": [{"number": "X-1"}]}, context=held())
    assert (found.outcome, found.about) == ("cant_tell", ("permits[0].authority",))


def test_an_authority_within_the_place_issues_for_it_and_one_that_begins_alike_does_not() -> None:
    def told(authority: str) -> str:
        named = {"permits": [{"authority": authority, "number": "X-1"}]}
        return outcome({**PERMIT, "permit": "us-wa"}, changes=named, context=held(authority=authority))

    assert (told("us-wa-king"), told("us-wasco"), told("us")) == ("met", "not_met", "not_met")


def test_every_surface_needs_a_permit_and_one_without_is_named() -> None:
    both = rule(**{**PERMIT, "surfaces": ["roof", "walk"]})
    walk = {"surfaces[1]": {"name": "Front walk", "kind": "walk"}, "mixes[0].surfaces": None}
    on_both = {"mixes[0].surfaces": [{"surface": "Main roof, north slope"}, {"surface": "Front walk"}]}
    found = finding(both, changes={**walk, **on_both, **NUMBERED}, context=held())
    assert found.outcome == "not_met"
    assert found.message.say("en") == (
        "Sample Moss Wash: On 2026-09-14 no permit on the record covers Front walk (walk); known is X-1 (xx): "
        "roof, 2026-01-01 to 2026-12-31. Enter the permit that covers it, or do not treat it."
    )
    unknown = finding(both, changes={**walk, **on_both, "surfaces[1].kind": None, **NUMBERED}, context=held())
    assert (unknown.outcome, unknown.about) == ("cant_tell", ("surfaces[1].kind",))


def test_met_names_the_permit_and_says_what_was_not_looked_at() -> None:
    assert finding(PERMIT, changes=NUMBERED, context=held()).message.say("en") == (
        "Sample Moss Wash: The record names a permit for Main roof, north slope (roof): X-1 (xx): roof, "
        "2026-01-01 to 2026-12-31. Its conditions were not looked at."
    )
    in_spanish = finding(PERMIT, changes=NUMBERED, context=held()).message.say("es")
    assert "X-1 (xx): tejado, 2026-01-01 a 2026-12-31" in in_spanish


def test_on_a_day_when_nothing_was_mixed_there_is_nothing_to_permit() -> None:
    stood_down = {"record.result": "stood-down", "record.why": "wind", "mixes": []}
    said = check(BARRED, PERMIT | {"id": "xx/permit"}, changes=stood_down).findings
    assert {found.outcome for found in said if found.pack == "xx"} == {"not_applicable"}


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"permit": "xx"}, "rule/one_of_keys"),
        ({"barred": None}, "rule/one_of_keys"),
        ({"barred": "no"}, "rule/unknown_word"),
        ({"regimes": ["herbicide"]}, "rule/unknown_word"),
        ({"regimes": []}, "rule/expected_list"),
        ({"surfaces": ["moat"]}, "rule/unknown_word"),
        ({"judges": "mixes"}, "rule/wrong_subject"),
    ],
)
def test_a_permission_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(rule(**{**BARRED, **keys}))
    assert caught.value.wording_id == wording
