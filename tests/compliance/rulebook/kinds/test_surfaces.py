"""Kind surfaces: kinds of surface and materials that a treatment is allowed on."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import finding, outcome, pack, rule


def only_on(*kinds: str) -> dict[str, Any]:
    return rule(kind="surfaces", judges="products", only_on=list(kinds))


def not_on(*materials: str) -> dict[str, Any]:
    return rule(kind="surfaces", judges="products", not_on=list(materials))


def test_only_the_surfaces_of_the_mix_are_judged() -> None:
    assert outcome(only_on("roof", "walk")) == "met"
    assert outcome(only_on("roof"), changes={"surfaces[1]": {"name": "Front walk", "kind": "walk"}}) == "met"
    found = finding(only_on("walk"))
    assert (found.outcome, found.about) == ("not_met", ("surfaces[0].kind",))
    assert "Main roof, north slope (roof)" in found.message.say("en")


@pytest.mark.parametrize(
    ("material", "expected"),
    [
        ("asphalt shingle", "met"),
        ("Copper sheet", "not_met"),
        ("old copper", "not_met"),
        ("coppery paint", "met"),
        (None, "cant_tell"),
    ],
)
def test_a_material_is_found_as_a_whole_word(material: str | None, expected: str) -> None:
    assert outcome(not_on("copper"), changes={"surfaces[0].material": material}) == expected


@pytest.mark.parametrize(
    ("entry", "kind", "material", "expected"),
    [
        ("copper", "gutter", "copper flashing", "not_met"),
        ("copper gutters", "gutter", "gutter, copper", "not_met"),
        ("Gutters, copper", "gutter", "copper gutter", "not_met"),
        ("copper gutters", "gutter", "copper", "not_met"),
        ("copper or zinc", "roof", "zinc sheet", "not_met"),
        ("madera teñida", "deck", "Madera tenida", "not_met"),
        ("canalones de cobre", "gutter", "cobre", "not_met"),
        ("copper gutters", "roof", "copper", "cant_tell"),
        ("galvanized metal", "roof", "metal roof", "cant_tell"),
        ("galvanized metal", None, "metal roof", "cant_tell"),
        ("copper gutters", "gutter", "aluminium gutter", "met"),
        ("copper gutters", "gutter", "gutter", "met"),
        ("unpainted glass", "roof", "glas shingle", "met"),
        ("copper", "gutter", "canalón de cobre", "not_met"),
        ("cobre", "gutter", "copper", "not_met"),
        ("copper", "roof", "Kupfer", "not_met"),
        ("zinc", "roof", "cinc", "not_met"),
        ("zinc", "roof", "galvanised sheet", "not_met"),
        ("acero galvanizado", "roof", "galvanized steel", "not_met"),
        ("metal", "gutter", "aluminum", "not_met"),
        ("metal", "gutter", "aluminio", "not_met"),
        ("metal", "roof", "plomo", "not_met"),
        ("aluminium", "gutter", "steel", "met"),
        ("painted surfaces", "deck", "painted wood", "not_met"),
        ("superficies pintadas", "deck", "madera pintada", "not_met"),
        ("painted surfaces", "deck", "cedar", "met"),
        ("copper", "roof", "unobtainium", "cant_tell"),
        ("copper", "roof", "unobtainium shingle", "met"),
    ],
)
def test_a_material_is_found_by_its_words_either_way_round(
    entry: str, kind: str | None, material: str, expected: str
) -> None:
    changes = {"surfaces[0].kind": kind, "surfaces[0].material": material}
    assert outcome(not_on(entry), changes=changes) == expected


def test_a_material_that_may_be_meant_is_said_with_what_the_label_has() -> None:
    found = finding(not_on("copper gutters"), changes={"surfaces[0].material": "copper"})
    assert found.about == ("surfaces[0].material",)
    assert "ruled out is “copper gutters”, and the record has “copper”" in found.message.say("en")


def test_a_kind_of_surface_is_said_in_the_readers_language() -> None:
    assert "no permite tratar Main roof, north slope (tejado)" in finding(only_on("walk")).message.say("es")


def test_unknown_surfaces_cant_tell() -> None:
    bare = {"surfaces": None, "mixes[0].surfaces": None}
    assert finding(only_on("roof"), changes=bare).about == ("surfaces",)
    assert finding(only_on("roof"), changes={"mixes[0].surfaces": []}).about == ("mixes[0].surfaces",)


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"only_on": ["moat"]}, "rule/unknown_word"),
        ({"only_on": ["roof"], "not_on": ["copper"]}, "rule/one_of_keys"),
        ({"only_on": ["roof"], "judges": "document"}, "rule/wrong_subject"),
    ],
)
def test_a_rule_on_surfaces_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(rule(**{"kind": "surfaces", "judges": "products", **keys}))
    assert caught.value.wording_id == wording


def test_met_says_what_was_looked_at_and_never_that_it_is_allowed() -> None:
    assert finding(only_on("roof")).message.say("en") == (
        "Sample Moss Wash: Only the kind was looked at: Example Act 1(a) lists roof."
    )
    assert finding(not_on("copper")).message.say("en") == (
        "Sample Moss Wash: Only the material was looked at: none that Example Act 1(a) rules out (copper) is "
        "on the record."
    )
