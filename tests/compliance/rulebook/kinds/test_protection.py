"""Kind protection: steps against runoff and drift."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import finding, outcome, pack, rule

ANY = {"any": ["downspouts-diverted", "downspouts-plugged"]}


def steps(form: dict[str, Any], **keys: Any) -> dict[str, Any]:
    return rule(kind="protection", stage="before", steps=form, **keys)


DOWNSPOUTS = steps(ANY, features=["downspout"])
SECOND = {"site.features[2]": {"kind": "downspout", "name": "south downspout"}}


DO_IT = "Do it before spraying and tick it; if it was not done, say why in the notes."


def test_a_step_that_names_the_feature_protects_it() -> None:
    found = finding(DOWNSPOUTS)
    assert (found.outcome, found.message.say("en")) == ("met", "Protected by: downspouts diverted.")


def test_each_feature_calls_for_its_own_protection() -> None:
    found = finding(DOWNSPOUTS, changes=SECOND)
    assert (found.outcome, found.about) == ("not_met", ("protection", "site.features[2]"))
    assert found.message.say("en") == (
        "The record shows no protection of south downspout; one of these is asked for: downspouts diverted, "
        f"downspouts plugged. {DO_IT}"
    )


def test_a_step_whose_list_of_features_is_empty_serves_all() -> None:
    assert outcome(DOWNSPOUTS, changes={**SECOND, "protection[0].features": []}) == "met"


def test_a_step_that_leaves_its_features_out_may_serve_any() -> None:
    found = finding(DOWNSPOUTS, changes={**SECOND, "protection[0].features": None})
    assert (found.outcome, found.about) == ("cant_tell", ("protection[0].features",))


def test_a_feature_without_a_name_may_be_the_one_that_a_step_names() -> None:
    nameless = {"site.features[2]": {"kind": "downspout"}}
    found = finding(DOWNSPOUTS, changes=nameless)
    assert (found.outcome, found.about) == ("cant_tell", ("site.features[2].name",))
    assert outcome(DOWNSPOUTS, changes={**nameless, "protection[0].features": []}) == "met"
    assert outcome(DOWNSPOUTS, changes={**nameless, "protection": []}) == "not_met"


def test_the_list_without_the_step_is_not_met_and_no_list_cant_tell() -> None:
    assert outcome(DOWNSPOUTS, changes={"protection": []}) == "not_met"
    found = finding(DOWNSPOUTS, changes={"protection": None})
    assert (found.outcome, found.about) == ("cant_tell", ("protection",))


def test_without_such_a_feature_the_rule_does_not_apply() -> None:
    assert outcome(steps(ANY, features=["pond"])) == "not_applicable"
    assert finding(steps(ANY, features=["pond"]), changes={"protection": None}).about == ("site.features",)


def test_unknown_features_cant_tell() -> None:
    assert finding(DOWNSPOUTS, changes={"site.features": None, "protection": []}).about == ("site.features",)
    assert finding(DOWNSPOUTS, changes={"site.features[0].kind": None}).about == ("site.features[0].kind",)
    assert outcome(DOWNSPOUTS, changes={**SECOND, "site.features[0].kind": None}) == "not_met"


def test_all_steps_must_be_there_where_the_rule_says_all() -> None:
    both = {"all": ["downspouts-diverted", "plants-rinsed"]}
    found = finding(steps(both))
    assert found.outcome == "not_met"
    assert found.message.say("en") == f"The record does not show: plants rinsed. {DO_IT}"
    assert finding(steps(both, features=["downspout"])).message.say("en") == (
        f"The record does not show this protection of north-west downspout: plants rinsed. {DO_IT}"
    )
    assert outcome(steps(both), changes={"protection[2]": {"step": "plants-rinsed"}}) == "met"


def test_any_step_will_do_where_the_rule_says_any() -> None:
    assert outcome(steps(ANY)) == "met"
    assert finding(steps({"any": ["plants-rinsed", "plants-covered"]})).message.say("en") == (
        f"The record shows none of these steps: plants rinsed, plants covered. {DO_IT}"
    )


def test_a_treated_surface_can_call_for_a_step() -> None:
    assert outcome(steps(ANY, surfaces=["roof"])) == "met"
    assert outcome(steps({"all": ["plants-rinsed"]}, surfaces=["roof"])) == "not_met"
    assert outcome(steps(ANY, surfaces=["walk"])) == "not_applicable"


def test_the_outcomes_that_it_can_give_follow_from_what_calls_for_it() -> None:
    always, features = pack(steps(ANY)).rules[0], pack(DOWNSPOUTS).rules[0]
    assert "not_applicable" not in always.possible()
    assert "not_applicable" in features.possible()


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"steps": {"any": ["prayed"]}}, "rule/unknown_word"),
        ({"steps": {"any": [], "all": []}}, "rule/one_of_keys"),
        ({"steps": {"all": []}}, "rule/expected_list"),
        ({"steps": {"all": ["plants-rinsed"], "when": "x"}}, "rule/unknown_key"),
        ({"features": ["moat"]}, "rule/unknown_word"),
        ({"surfaces": ["moat"]}, "rule/unknown_word"),
    ],
)
def test_a_protection_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack({**DOWNSPOUTS, **keys})
    assert caught.value.wording_id == wording
