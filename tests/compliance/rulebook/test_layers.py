"""Layers: which packs cover a place, the strictest limit of all, and what a firm may not do."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from compliance.rulebook.kind import Kind
from compliance.rulebook.layers import refuse_loosening
from compliance.rulebook.outcome import Outcome, worst
from tests.compliance.rulebook.builders import WIND, check, pack, rule

LOOSENED = {"2019-01-01": {"max": "8 mph"}, "2024-01-01": {"max": "15 mph"}}


def law(**keys: Any) -> dict[str, Any]:
    return rule(**{**WIND, **keys})


def policy(**keys: Any) -> Any:
    own = rule(**{**WIND, "id": "firm/wind", "cite": "firm policy, wind", **keys})
    return pack(own, layer="firm", pack="firm", questions=None)


def wind_limits(*rules: dict[str, Any], **given: Any) -> list[dict[str, Any]]:
    return [limit.as_json() for limit in check(*rules, **given).limits if limit.quantity == "wind_speed"]


def test_the_label_sets_the_limit_where_it_is_the_strictest() -> None:
    assert wind_limits(law(max="12 mph")) == [
        {
            "quantity": "wind_speed",
            "for": "mixes[0].products[0]",
            "min": None,
            "max": {"value": "10", "unit": "mph"},
            "set_by": {
                "layer": "label",
                "rule": "label/99999-12/wind_speed",
                "cite": "label of Sample Moss Wash, 2025-03",
            },
            "level": "required",
            "text": "found",
        }
    ]


@pytest.mark.parametrize(
    ("own", "theirs", "layer"),
    [("8 mph", "9 mph", "law"), ("9 mph", "8 mph", "firm"), ("12 mph", None, "label")],
)
def test_the_strictest_of_law_label_and_firm_holds(own: str, theirs: str | None, layer: str) -> None:
    (limit,) = wind_limits(law(max=own), policy=policy(max=theirs) if theirs else None)
    assert limit["set_by"]["layer"] == layer


def test_behind_a_stricter_limit_that_is_advised_the_required_one_is_shown() -> None:
    advised, required = wind_limits(law(max="12 mph"), policy=policy(max="7 mph", level="advised"))
    assert (advised["max"]["value"], advised["set_by"]["layer"], advised["level"]) == ("7", "firm", "advised")
    assert (required["max"]["value"], required["set_by"]["layer"]) == ("10", "label")
    assert required["level"] == "required"


def test_behind_a_looser_limit_that_is_advised_nothing_else_is_shown() -> None:
    (limit,) = wind_limits(law(max="12 mph"), policy=policy(max="11 mph", level="advised"))
    assert limit["set_by"]["layer"] == "label"


def test_limits_in_other_units_are_compared_exactly() -> None:
    """16.09344 km/h are 10 mph (NIST SP 811, appendix B)."""
    assert wind_limits(law(max="16.093439 km/h"))[0]["set_by"]["layer"] == "law"
    assert wind_limits(law(max="16.093441 km/h"))[0]["set_by"]["layer"] == "label"


def test_a_law_for_the_whole_treatment_stands_for_a_product_that_sets_no_limit() -> None:
    sticker = {"mixes[0].products[1]": {"name": "Sample Sticker", "kind": "adjuvant"}}
    found = wind_limits(law(max="12 mph"), changes=sticker)
    assert [(one["for"], one["max"]["value"], one["set_by"]["layer"]) for one in found] == [
        ("mixes[0].products[0]", "10", "label"),
        ("mixes[0].products[1]", "12", "law"),
    ]


def test_minimum_and_maximum_of_two_layers_stand_apart() -> None:
    low, high = wind_limits(law(min="2 mph", max=None))
    assert (low["min"], low["max"], low["set_by"]["layer"]) == ({"value": "2", "unit": "mph"}, None, "law")
    assert (high["min"], high["set_by"]["layer"]) == (None, "label")


def test_both_sides_of_one_rule_stand_together() -> None:
    (both,) = wind_limits(law(min="2 mph", max="8 mph"))
    assert (both["min"]["value"], both["max"]["value"]) == ("2", "8")


def test_a_limit_without_products_binds_the_treatment() -> None:
    (limit,) = wind_limits(law(), changes={"mixes": None})
    assert limit["for"] is None


def test_a_rule_that_does_not_apply_or_cant_tell_sets_no_limit() -> None:
    never = {"fact": "site.indoors", "is": "yes"}
    unknown = {"fact": "customer.phone", "is": "1"}
    for when in (never, unknown):
        conditional = law(max="8 mph", when=when, otherwise={"en": "no", "es": "no"})
        assert wind_limits(conditional)[0]["set_by"]["layer"] == "label"


def test_a_minimum_above_a_maximum_leaves_no_lawful_value() -> None:
    found = check(law(min="11 mph", max=None))
    (unlawful,) = [one for one in found.findings if one.rule == "rulebook/no-lawful-value/wind-speed"]
    assert (unlawful.outcome, unlawful.level) == ("not_met", "required")
    assert unlawful.message.say("en") == (
        "Wind: Example Act 1(a) asks for at least 11 mph, the label of Sample Moss Wash allows 10 mph only. "
        "No value is lawful: do not start."
    )
    assert unlawful.cite == "Example Act 1(a); label of Sample Moss Wash, 2025-03"
    assert found.outcome == "not_met"


def test_advice_does_not_hide_that_what_is_required_leaves_no_lawful_value() -> None:
    found = check(law(min="11 mph", max=None), policy=policy(max="9 mph", level="advised"))
    (unlawful,) = [one for one in found.findings if one.rule.startswith("rulebook/")]
    assert unlawful.level == "required"


def test_an_advised_minimum_above_a_maximum_is_advice_only() -> None:
    found = check(law(min="11 mph", max=None, level="advised"))
    (unlawful,) = [one for one in found.findings if one.rule.startswith("rulebook/")]
    assert unlawful.level == "advised"


@pytest.mark.parametrize(
    ("own", "theirs"),
    [({"max": "12 mph"}, {}), ({"max": None, "min": "1 mph"}, {"max": None, "min": "2 mph"})],
)
def test_a_policy_that_loosens_a_law_is_refused_with_the_reason(
    own: dict[str, Any], theirs: dict[str, Any]
) -> None:
    with pytest.raises(RuleError) as caught:
        refuse_loosening(policy(**own), [pack(law(**theirs))])
    assert caught.value.place == ("firm/wind", "max" if own["max"] else "min")
    assert "a firm's rule can only be stricter" in str(caught.value)


def test_of_several_laws_that_a_policy_loosens_the_strictest_is_named() -> None:
    laws = [pack(law(max=most, cite=f"Act on {most}")) for most in ("9 mph", "7 mph", "8 mph")]
    with pytest.raises(RuleError) as caught:
        refuse_loosening(policy(max="10 mph"), laws)
    assert "Act on 7 mph" in str(caught.value)


@pytest.mark.parametrize(
    ("own", "theirs"),
    [
        ({"max": "8 mph"}, {}),
        ({"max": "10 mph"}, {}),
        ({"max": "12 mph"}, {"level": "advised"}),
        ({"max": "12 mph"}, {"quantity": "gust"}),
        ({"max": "12 mph"}, {"max": None, "min": "2 mph"}),
        ({"max": "12 mph"}, {"max": None, "values": LOOSENED}),
    ],
    ids=["tighter", "equal", "advice", "another quantity", "another side", "law loosened since"],
)
def test_a_policy_that_tightens_is_taken(own: dict[str, Any], theirs: dict[str, Any]) -> None:
    assert refuse_loosening(policy(**own), [pack(law(**theirs))]) is None


def test_a_policy_stands_apart_from_law_and_cites_itself() -> None:
    found = check(law(), policy=policy(max="3 mph", level="advised"))
    (own,) = [one for one in found.findings if one.layer == "firm"]
    assert (own.outcome, own.cite, own.level) == ("not_met", "firm policy, wind", "advised")
    assert "your firm's policy allows 3 mph" in own.message.say("en")
    assert found.outcome == "met"
    assert [one.id for one in found.packs] == ["us", "xx", "firm"]


@pytest.mark.parametrize(
    ("outcomes", "expected"),
    [
        ("not_met cant_tell met not_applicable", "not_met"),
        ("cant_tell met not_applicable", "cant_tell"),
        ("met not_applicable", "met"),
        ("not_applicable", "not_applicable"),
        ("", "not_applicable"),
    ],
)
def test_not_met_comes_before_cant_tell_before_met_before_not_applicable(
    outcomes: str, expected: str
) -> None:
    assert worst(Outcome(one) for one in outcomes.split()) == expected


def test_a_kind_must_say_how_it_reads_judges_and_what_it_can_give() -> None:
    bare: Any = Kind()
    for act in (lambda: Kind.read(bare), lambda: bare.judge(bare), bare.possible):
        with pytest.raises(NotImplementedError):
            act()


def test_a_policy_that_only_some_labels_are_stricter_than_is_taken() -> None:
    """With the others it is the stricter one; with these the label holds."""
    strict, loose = (pack(law(max=f"{most} mph"), layer="label") for most in (8, 15))
    assert refuse_loosening(policy(max="9 mph"), [strict, loose]) is None
    with pytest.raises(RuleError):
        refuse_loosening(policy(max="16 mph"), [strict, loose])
