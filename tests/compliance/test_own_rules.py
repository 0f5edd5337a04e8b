"""A firm's own rules as it types them: read, told, and tried against laws and examples."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from compliance.own_rules import Group, OwnExample, OwnRule, Row, Trial, own_pack, try_rule
from compliance.own_rules.facts import choices, typed
from compliance.plain_words.examples import term_at
from tests.compliance.own import CALM
from tests.compliance.rulebook.builders import WIND, pack, rule

DAY = date(2026, 11, 25)
KINDS: dict[str, dict[str, Any]] = {
    "limit": {"quantity": "temperature", "min": "40 degF"},
    "record": {
        "asks": [{"words": {"en": "Sky", "es": "Cielo"}, "every": "weather.readings", "path": "item.sky"}]
    },
    "protection": {"steps": {"any": ["downspouts-diverted"]}, "features": ["downspout"]},
    "interval": {"hours": {"from": "07:00", "to": "19:00"}},
    "licence": {"holder": "person", "authorities": ["us-wa"], "supervised": ["in-sight"]},
}


def tried(own: OwnRule, laws: tuple = (), language: str = "en") -> Trial:
    return try_rule(replace(own, key="1"), laws, "Quillfeather Exterior Care", DAY, language)


def only(*rows: Row, join: str = "all") -> OwnRule:
    """The rule for calm days, only where these rows hold."""
    return replace(CALM, groups=(Group(rows, join),) if rows else ())


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_in_the_form_makes_a_rule_and_is_the_same_after_it_was_kept(kind):
    own = OwnRule("1", "Ours", "", kind, KINDS[kind], examples=(OwnExample("x", "roof-in-september", "met"),))
    assert tried(own).fault == ""
    assert OwnRule.from_json(own.as_json()) == own


def test_examples_say_whether_they_come_out_as_expected():
    trial = tried(CALM)
    assert [(one.right, one.outcome) for one in trial.tried] == [(True, "met"), (True, "not met")]
    assert trial.passed
    wrong = replace(CALM, examples=(OwnExample("x", "roof-in-september", "not_met"),))
    assert [(one.right, one.outcome) for one in tried(wrong).tried] == [(False, "met")]
    assert not tried(wrong).passed


def test_an_example_that_cannot_be_made_says_why():
    changes = (("weather.readings[0].wind_speed", "9 gal"),)
    broken = replace(CALM, examples=(OwnExample("x", "roof-in-september", "met", changes),))
    (one,) = tried(broken).tried
    assert one.fault == "weather.readings[0].wind_speed: expected a speed, got 9 gal"
    assert not tried(broken).passed


@pytest.mark.parametrize(("most", "refused"), [("10 mph", False), ("16.1 km/h", True), ("16 km/h", False)])
def test_a_limit_may_tighten_a_law_in_any_unit_but_never_loosen_it(most, refused):
    # the invented law allows 10 mph, which is 16.09344 km/h
    law = pack(rule(**WIND))
    trial = tried(replace(CALM, params={"quantity": "wind_speed", "max": most}, examples=()), (law,))
    assert (trial.key == "max") is refused
    assert ("Example Act 1(a) allows 10 mph; a firm's rule can only be stricter" in trial.fault) is refused


@pytest.mark.parametrize(
    ("quantity", "side", "bound", "refused"),
    [
        ("temperature", "min", "300 degF", True),
        ("temperature", "min", "140 degF", False),
        ("temperature", "max", "-77 degF", True),
        ("wind_speed", "min", "900 mph", True),
        ("wind_speed", "max", "0 mph", False),
    ],
)
def test_a_bound_that_nothing_could_keep_is_refused(quantity, side, bound, refused):
    trial = tried(replace(CALM, params={"quantity": quantity, side: bound}, examples=()))
    assert (trial.key == side) is refused
    assert ("beyond anything that is measured" in trial.fault) is refused


@pytest.mark.parametrize("path", ["site.county", "treatment.county"])
@pytest.mark.parametrize(
    "county", ["Quill County", "quill", "County of Quill", "Condado de Quill", "Quill Co., WA"]
)
def test_a_county_is_met_however_it_is_written(path, county):
    """The example's site lies in Quill County."""
    assert [one.outcome for one in tried(only(Row(path, "is", county))).tried] == ["met", "not met"]
    elsewhere = only(Row(path, "is not", county))
    assert [one.outcome for one in tried(elsewhere).tried] == ["doesn't apply", "doesn't apply"]


def test_a_condition_narrows_the_rule_and_its_sentence_says_to_what():
    roofs = only(Row("surfaces[].kind", "is", "Tejado"), Row("site.use", "is not", "school"))
    trial = tried(roofs)
    assert trial.passed
    assert trial.sheet and [applies.otherwise for applies in trial.sheet.applies] == [
        "This rule of the firm is only for this: All of these: (Surfaces: at least one with Kind of surface: "
        "roof; Use of the site (Site): not school)."
    ]
    walls = only(Row("surfaces[].kind", "is", "wall"))
    assert [one.outcome for one in tried(walls).tried] == ["doesn't apply", "doesn't apply"]


ROOF, WALL = Row("surfaces[].kind", "is", "roof"), Row("surfaces[].kind", "is", "wall")


@pytest.mark.parametrize(
    ("groups", "join", "applies"),
    [
        ((Group((ROOF,)), Group((WALL,))), "all", False),
        ((Group((ROOF,)), Group((WALL,))), "any", True),
        ((Group((WALL,), "none"),), "all", True),
        ((Group((ROOF, WALL), "none"),), "all", False),
        ((Group((replace(ROOF, over="every"),)),), "all", True),
        ((Group((replace(ROOF, over="none"),)),), "all", False),
        ((Group((replace(WALL, asks="is not", over="every"),)),), "all", True),
        ((Group((ROOF, WALL), "any"), Group((Row("site.use", "is", "residence"),))), "all", True),
    ],
)
def test_groups_of_rows_hold_all_or_one_or_none_and_rows_of_a_list_some_or_every_or_no_item(
    groups, join, applies
):
    # the situation is a residence of which a roof alone is treated
    own = replace(CALM, groups=groups, join=join)
    expected = ["met", "not met"] if applies else ["doesn't apply"] * 2
    assert [one.outcome for one in tried(own).tried] == expected
    assert OwnRule.from_json(own.as_json()) == own


def test_a_rule_of_before_there_were_groups_says_what_it_said():
    before = {**CALM.as_json(), "join": "any", "rows": [
        {"path": "surfaces[].kind", "asks": "is not", "value": "wall"},
        {"path": "site.use", "asks": "is not", "value": "school"},
    ]}  # fmt: skip
    del before["groups"]
    own = OwnRule.from_json(before)
    assert own.groups == (
        Group((Row("surfaces[].kind", "is", "wall", "none"), Row("site.use", "is not", "school")), "any"),
    )
    assert tried(own).fault == ""


@pytest.mark.parametrize(
    ("rows", "params", "said"),
    [
        ((Row("surfaces[].kind", "is", "moon"),), {}, "moon is not allowed here"),
        ((Row("site.colour", "is", "red"),), {}, "site.colour is not allowed here"),
        ((Row("site.use", "at least", "school"),), {}, "cannot be compared by size"),
        ((), {"max": "9 gal"}, "expected a speed, got 9 gal"),
        ((), {"max": "1 mph", "min": "2 mph"}, "the minimum 2 mph is above the maximum 1 mph"),
    ],
)
def test_what_is_no_rule_is_refused_in_words(rows, params, said):
    own = replace(only(*rows), params={"quantity": "wind_speed", "max": "8 mph", **params})
    assert said in tried(own).fault
    assert tried(own, language="es").fault


def test_every_fact_on_offer_can_be_asked_whether_it_is_on_the_record():
    for path in choices():
        assert tried(only(Row(path, "present"))).fault == "", path


def test_words_are_read_in_both_languages():
    kind = term_at("surfaces[0].kind")
    assert kind is not None
    assert typed(kind, " Tejado ") == typed(kind, "roof") == "roof"


def test_no_rules_make_no_pack():
    assert own_pack([], "1", "Quillfeather Exterior Care", DAY) is None
