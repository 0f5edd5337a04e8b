"""Conditions: a small closed form, three-valued after Kleene."""

from itertools import product
from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import TEXT, finding, pack, rule

PRESENT = {"path": "record.id", "words": TEXT}
TRUE, FALSE = {"fact": "site.indoors", "is": "no"}, {"fact": "site.indoors", "is": "yes"}
UNKNOWN = {"fact": "customer.phone", "is": "1"}
TRUTHS = {"true": TRUE, "false": FALSE, "unknown": UNKNOWN}
OUTCOMES = {"true": "met", "false": "not_applicable", "unknown": "cant_tell"}


def conditional(when: Any, **keys: Any) -> dict[str, Any]:
    return rule(kind="record", asks=[PRESENT], when=when, otherwise={"en": "no", "es": "no"}, **keys)


def truth(when: Any, **given: Any) -> str:
    """`true`, `false` or `unknown`, seen from outside by what the rule then says."""
    judges = given.pop("judges", "document")
    seen = str(finding(conditional(when, judges=judges), **given).outcome)
    return {outcome: name for name, outcome in OUTCOMES.items()}[seen]


def refusal(when: Any, **keys: Any) -> RuleError:
    with pytest.raises(RuleError) as caught:
        pack(conditional(when, **keys))
    return caught.value


@pytest.mark.parametrize(("left", "right"), list(product(TRUTHS, repeat=2)))
def test_all_and_any_follow_kleene(left: str, right: str) -> None:
    """Kleene's strong three-valued logic: the minimum and maximum of false < unknown < true."""
    order = ["false", "unknown", "true"]
    both = [TRUTHS[left], TRUTHS[right]]
    assert truth({"all": both}) == min(left, right, key=order.index)
    assert truth({"any": both}) == max(left, right, key=order.index)


@pytest.mark.parametrize(("part", "turned"), [("true", "false"), ("false", "true"), ("unknown", "unknown")])
def test_not_turns_what_is_known_and_leaves_the_unknown(part: str, turned: str) -> None:
    assert truth({"not": TRUTHS[part]}) == turned


@pytest.mark.parametrize(
    ("when", "expected"),
    [
        ({"fact": "site.use", "is": "residence"}, "true"),
        ({"fact": "site.use", "is": "school"}, "false"),
        ({"fact": "site.use", "is one of": ["school", "residence"]}, "true"),
        ({"fact": "site.county", "is": "Quill County"}, "true"),
        ({"fact": "treatment.total_area", "at least": "1342 ft**2"}, "true"),
        ({"fact": "treatment.total_area", "at least": "0.1 acre"}, "false"),
        ({"fact": "treatment.total_area", "at most": "1342 ft**2"}, "true"),
        ({"fact": "treatment.total_area", "at most": "1341 ft**2"}, "false"),
        ({"fact": "treatment.day", "at least": "2026-09-14"}, "true"),
        ({"fact": "treatment.day", "at least": "2026-09-15"}, "false"),
        ({"fact": "timing.started_at", "at most": "2026-09-14T16:12:00Z"}, "true"),
        ({"fact": "timing.started_at", "at most": "2026-09-14T16:11:59Z"}, "false"),
        ({"fact": "site.position.latitude", "at least": "47.1"}, "true"),
        ({"fact": "site.position.latitude", "at least": "47.11"}, "false"),
        ({"fact": "record.version", "is": "1"}, "true"),
        ({"fact": "customer.email", "present": "yes"}, "true"),
        ({"fact": "customer.phone", "present": "yes"}, "false"),
        ({"fact": "customer.phone", "present": "no"}, "true"),
        ({"fact": "incidents", "present": "no"}, "true"),
        ({"fact": "people", "present": "yes"}, "true"),
        ({"fact": "site.address", "present": "yes"}, "true"),
        ({"some": "site.features", "has": {"fact": "item.kind", "is": "downspout"}}, "true"),
        ({"some": "site.features", "has": {"fact": "item.kind", "is": "pond"}}, "false"),
        ({"every": "site.features", "has": {"fact": "item.distance", "at most": "22 ft"}}, "true"),
        ({"every": "site.features", "has": {"fact": "item.distance", "at most": "21 ft"}}, "false"),
        ({"some": "mixes.products", "has": {"fact": "item.kind", "is": "pesticide"}}, "true"),
        ({"some": "targets", "has": {"fact": "item", "is": "moss"}}, "true"),
        ({"some": "incidents", "has": {"fact": "item.kind", "is": "spill"}}, "false"),
        ({"every": "incidents", "has": {"fact": "item.kind", "is": "spill"}}, "true"),
        ({"some": "people", "has": {"some": "item.tasks", "has": {"fact": "item", "is": "mixed"}}}, "true"),
    ],
)
def test_each_comparison_says_what_the_document_says(when: Any, expected: str) -> None:
    assert truth(when) == expected


@pytest.mark.parametrize("path", ["people", "site.features", "mixes.products", "customer.phone"])
def test_what_is_left_out_makes_a_comparison_unknown(path: str) -> None:
    missing = {"people": None, "site.features": None, "mixes": None, "weather.readings[0].by": None}
    lists = {"people": "name", "site.features": "name", "mixes.products": "name"}
    when = (
        {"some": path, "has": {"fact": f"item.{lists[path]}", "is": "x"}}
        if path in lists
        else {"fact": path, "is": "x"}
    )
    assert truth(when, changes=missing) == "unknown"


def test_one_item_that_fits_is_enough_whatever_the_others_hide() -> None:
    when = {"some": "site.features", "has": {"fact": "item.kind", "is": "downspout"}}
    assert truth(when, changes={"site.features[0].kind": None}) == "true"


def test_an_unknown_item_leaves_every_and_some_unknown() -> None:
    changes = {"site.features[0].kind": None}
    assert truth({"some": "site.features", "has": {"fact": "item.kind", "is": "pond"}}, changes=changes) == (
        "unknown"
    )
    water = {"fact": "item.kind", "is one of": ["downspout"]}
    assert truth({"every": "site.features", "has": water}, changes=changes) == "unknown"


def test_a_list_within_an_item_that_is_left_out_is_named() -> None:
    found = finding(
        conditional({"some": "mixes.products.active_ingredients", "has": {"fact": "item.name", "is": "x"}}),
        changes={"mixes[0].products[0].active_ingredients": None},
    )
    assert found.about == ("mixes[0].products[0].active_ingredients",)


def test_the_missing_members_are_named_once_each() -> None:
    found = finding(conditional({"any": [UNKNOWN, UNKNOWN, {"fact": "site.name", "is": "x"}]}))
    assert found.about == ("customer.phone",)
    assert found.message.say("en") == "Not filled in: Phone. Enter it with the customer's data."


def test_the_subject_of_a_rule_is_within_reach_of_its_condition() -> None:
    assert truth({"fact": "product.regime", "is": "pesticide"}, judges="products") == "true"
    assert truth({"fact": "mix.form", "is": "dry"}, judges="products") == "false"
    assert truth({"fact": "person.role", "is": "applicator"}, judges="people") == "true"
    assert truth({"fact": "surface.kind", "is": "roof"}, judges="surfaces") == "true"
    assert truth({"fact": "mix.measured_by", "is": "meter"}, judges="mixes") == "false"


QUESTION = {"question": "xx/question/roofs", "is": "no"}


def answered(**keys: Any) -> dict[str, Any]:
    return {"determinations": [{"question": "xx/question/roofs", **keys}]}


def test_an_open_question_is_cant_tell_at_level_advised() -> None:
    found = finding(conditional(QUESTION))
    assert (str(found.outcome), found.level) == ("cant_tell", "advised")
    assert found.message.say("es").endswith("una pregunta abierta: ¿Es un tejado un terreno?")


@pytest.mark.parametrize(
    ("answer", "expected"),
    [
        ({"answer": "no"}, "true"),
        ({"answer": "yes"}, "false"),
        ({"answer": "no", "valid_from": "2026-09-14", "valid_to": "2026-09-14"}, "true"),
        ({"answer": "no", "valid_from": "2026-09-15"}, "unknown"),
        ({"answer": "no", "valid_to": "2026-09-13"}, "unknown"),
        ({"answer": " No"}, "true"),
        ({"answer": "maybe"}, "unknown"),
    ],
)
def test_the_firms_answer_holds_on_the_days_that_it_names(answer: dict[str, str], expected: str) -> None:
    assert truth(QUESTION, context=answered(**answer)) == expected


@pytest.mark.parametrize(("began", "expected"), [("2026-02-01", "true"), ("2025-02-01", "unknown")])
def test_of_two_answers_the_later_holds_and_two_of_one_day_are_none(began: str, expected: str) -> None:
    older = {"question": "xx/question/roofs", "answer": "yes", "valid_from": "2025-02-01"}
    newer = {"question": "xx/question/roofs", "answer": "no", "valid_from": began}
    for order in ([older, newer], [newer, older]):
        assert truth(QUESTION, context={"determinations": order}) == expected


def test_text_is_compared_without_regard_to_case_and_spaces() -> None:
    assert truth({"fact": "site.county", "is one of": ["QUILL COUNTY"]}) == "true"
    assert truth({"fact": "site.county", "is": "quill  county "}) == "true"
    assert truth({"fact": "site.county", "is": "Quil County"}) == "false"


def test_a_missing_member_beside_an_open_question_keeps_the_level() -> None:
    found = finding(conditional({"all": [QUESTION, UNKNOWN]}))
    assert (found.level, found.about) == ("required", ("customer.phone",))


def test_on_an_unknown_day_no_answer_is_in_force() -> None:
    days = {"timing": None}
    assert truth(QUESTION, context=answered(answer="no"), changes=days) == "unknown"


@pytest.mark.parametrize(
    ("when", "wording"),
    [
        ({"fact": "site.usage", "is": "x"}, "rule/unknown_fact"),
        ({"fact": "sites.use", "is": "x"}, "rule/unknown_fact"),
        ({"fact": "site.use.more", "is": "x"}, "rule/unknown_fact"),
        ({"fact": ".".join(["site"] * 20), "is": "x"}, "rule/unknown_fact"),
        ({"fact": "product.name", "is": "x"}, "rule/unknown_fact"),
        ({"fact": "people.name", "is": "x"}, "rule/through_a_list"),
        ({"fact": "people", "is": "x"}, "rule/is_a_list"),
        ({"fact": "site", "is": "x"}, "rule/is_a_list"),
        ({"fact": "site.use", "is": "castle"}, "rule/unknown_word"),
        ({"fact": "site.use", "is": ""}, "rule/expected_text"),
        ({"fact": "site.use", "is one of": "school"}, "rule/expected_list"),
        ({"fact": "site.use", "is one of": ["school", "castle"]}, "rule/unknown_word"),
        ({"fact": "site.use", "at least": "school"}, "rule/not_ordered"),
        ({"fact": "treatment.total_area", "at least": "3 gal"}, "rule/quantity"),
        ({"fact": "treatment.day", "at least": "14.9.2026"}, "rule/not_a_day"),
        ({"fact": "treatment.day", "at least": "2026-02-30"}, "rule/not_a_day"),
        ({"fact": "timing.started_at", "at least": "2026-09-14T09:00:00"}, "rule/not_a_time"),
        ({"fact": "timing.started_at", "at least": "soon"}, "rule/not_a_time"),
        ({"fact": "record.version", "is": "one"}, "rule/not_a_number"),
        ({"fact": "site.indoors", "is": "true"}, "rule/unknown_word"),
        ({"fact": "site.use"}, "rule/one_of_keys"),
        ({"fact": "site.use", "is": "school", "at most": "x"}, "rule/one_of_keys"),
        ({"fact": "site.use", "is": "school", "why": "x"}, "rule/unknown_key"),
        ({"some": "site.use", "has": TRUE}, "rule/not_a_list"),
        ({"some": "people"}, "rule/missing_key"),
        ({"question": "xx/question/walls", "is": "no"}, "rule/unknown_question"),
        ({"question": "xx/question/roofs", "is": "perhaps"}, "rule/unknown_word"),
        ({"all": []}, "rule/expected_list"),
        ({}, "rule/one_of_keys"),
        ("always", "rule/expected_mapping"),
    ],
)
def test_a_condition_outside_the_form_is_refused(when: Any, wording: str) -> None:
    assert refusal(when).wording_id == wording


def test_a_fault_leads_to_its_place() -> None:
    found = refusal({"all": [TRUE, {"not": {"fact": "site.usage", "is": "x"}}]})
    assert found.place == ("rules/topic.yaml", "rules", 0, "when", "all", 1, "not", "fact")
    assert "there is no fact usage; here there are address, county" in str(found)


def test_a_hostile_condition_ends_in_an_error_not_in_a_stack_overflow() -> None:
    deep: Any = TRUE
    for _ in range(5000):
        deep = {"not": deep}
    assert refusal(deep).wording_id == "rule/too_deep"
    assert refusal({"all": [TRUE] * 500}).wording_id == "rule/too_large"


REGIME = {"fact": "product.regime", "is": "plant-protection"}
OURS = {**REGIME, "among": ["plant-protection", "biocide", "other"]}


@pytest.mark.parametrize(
    ("regime", "expected"),
    [("plant-protection", "true"), ("biocide", "false"), ("pesticide", "unknown"), ("exempt", "unknown")],
)
def test_a_word_of_another_law_leaves_a_condition_open(regime: str, expected: str) -> None:
    changes = {"mixes[0].products[0].regime": regime}
    assert truth(OURS, judges="products", changes=changes) == expected


def test_a_word_of_another_law_is_repeated_in_the_reason() -> None:
    found = finding(conditional(OURS, judges="products"))
    assert found.about == ("mixes[0].products[0].regime",)
    assert "“pesticide” is a word of another law and does not say what it is here" in found.message.say("en")
    assert "«pesticida» es una palabra de otra ley" in found.message.say("es")


def test_what_is_not_stated_is_named_before_what_does_not_tell() -> None:
    found = finding(conditional({"all": [OURS, UNKNOWN]}, judges="products"))
    assert found.about == ("customer.phone",)


def test_a_word_that_a_law_does_not_know_cannot_be_asked_for() -> None:
    found = refusal({**OURS, "is": "exempt"}, judges="products")
    assert "exempt is not allowed here; allowed are plant-protection, biocide, other" in str(found)
