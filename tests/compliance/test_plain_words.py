"""Rules in plain words."""

import re

import pytest

from compliance.facts_reader import VOCABULARY
from compliance.pack_reader import registered_packs
from compliance.plain_words import Point, rule_sheets
from compliance.plain_words.conditions import Conditions
from compliance.plain_words.duties import DESCRIPTIONS
from compliance.plain_words.examples import value_in_words
from compliance.rulebook.kinds import KINDS
from compliance.rulebook.pack import Pack

PACKS = {pack.id: pack for pack in registered_packs()}


def lines(points: tuple[Point, ...]) -> list[str]:
    return [line for point in points for line in (point.text, *lines(point.points))]


def said(condition: dict, language: str = "en", judges: str = "document") -> str:
    return Conditions(VOCABULARY.roots(judges), {}, language).point(condition).flat


def test_every_kind_of_rule_has_its_sentences():
    assert DESCRIPTIONS.keys() == KINDS.keys()


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("pack", PACKS.values(), ids=lambda pack: pack.id)
def test_every_rule_of_every_pack_is_told_without_a_hole(pack: Pack, language: str):
    sheets = rule_sheets(pack, language)
    assert [sheet.id for sheet in sheets] == [rule.id for rule in pack.rules]
    for sheet in sheets:
        told = [line for asked in sheet.asked for line in lines(asked.points)]
        told += [line for applies in sheet.applies for line in lines((applies.when,))]
        assert all(told) and sheet.asked[0].points, sheet.id
        assert not [line for line in told if "{" in line or re.search(r"treatment\.\w", line)], sheet.id


def test_conditions_are_said_with_the_words_that_a_person_uses():
    assert said({"fact": "treatment.applied", "is": "yes"}) == "Something was applied: yes"
    assert said({"not": {"fact": "treatment.total_area", "at least": "9 ft**2"}}) == (
        "Area treated in all: less than 9 ft²"
    )
    assert said({"some": "surfaces", "has": {"fact": "item.kind", "is one of": ["roof", "wall"]}}, "es") == (
        "Superficies: al menos uno con Clase de superficie: tejado o pared"
    )
    assert said({"some": "person.tasks", "has": {"fact": "item", "is": "sprayed"}}, judges="people") == (
        "Tasks (Person): at least one is sprayed"
    )
    assert said({"fact": "product.regime", "present": "no"}, judges="products") == (
        "Governed as (Product): not on the record"
    )


def test_a_condition_in_several_parts_is_told_in_points():
    roof = {"some": "surfaces", "has": {"fact": "item.kind", "is": "roof"}}
    indoors = {"fact": "site.indoors", "is": "yes"}
    point = Conditions(VOCABULARY.roots("document"), {}, "en").point({"any": [roof, indoors]})
    assert point.text == "At least one of these:"
    assert [part.text for part in point.points] == [
        "Surfaces: at least one with Kind of surface: roof",
        "Indoors (Site): yes",
    ]


def test_a_sheet_states_what_a_notice_asks():
    sheet = next(one for one in rule_sheets(PACKS["us-ny"], "en") if one.id == "us-ny/notice/neighbors")
    told = lines(sheet.asked[0].points)
    assert "Told: Neighbour." in told
    assert "When: at least 48 h before the start." in told
    assert sheet.source == PACKS["us-ny"].sources["ecl-neighbours"]


@pytest.mark.parametrize(("answer", "words"), [("yes", "Respuesta: sí"), ("no", "Respuesta: no")])
def test_the_answer_to_a_question_in_an_example_is_said_in_the_readers_language(answer, words):
    given = [{"question": "us-ny/question/ground", "answer": answer}]
    assert value_in_words("context.determinations", given, "es").endswith(words)
    given[0]["answer"] = "only on lawns"
    assert value_in_words("context.determinations", given, "es").endswith("only on lawns")


def test_a_word_of_which_a_law_knows_some_is_told_with_the_others():
    known = ["plant-protection", "biocide"]
    condition = {"fact": "product.regime", "is": "biocide", "among": known}
    assert said(condition, judges="products") == (
        "Governed as (Product): biocide (a word other than plant protection product or biocide leaves it open)"
    )
