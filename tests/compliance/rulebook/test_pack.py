"""A pack: its digest, its head, the conditions that a file shares."""

from typing import Any

import pytest

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.errors import RuleError
from compliance.rulebook.pack import read_pack
from compliance.rulebook.reading import Params, Setting
from tests.compliance.rulebook.builders import HEAD, TEXT, WIND, check, finding, pack, rule

OTHERWISE = {"en": "Indoors.", "es": "Dentro."}


def test_the_same_data_have_the_same_digest_and_other_data_another() -> None:
    one, same = pack(rule(**WIND)), pack(rule(**WIND))
    assert one.digest == same.digest
    assert one.digest.startswith("sha256:")
    assert pack(rule(**{**WIND, "max": "11 mph"})).digest != one.digest
    assert pack(rule(**WIND), version="2").digest != one.digest


def test_the_order_of_keys_does_not_change_the_digest() -> None:
    turned = dict(reversed(rule(**WIND).items()))
    assert pack(turned).digest == pack(rule(**WIND)).digest


def test_a_condition_shared_by_a_file_holds_for_each_of_its_rules() -> None:
    topic = {
        "when": {"fact": "site.indoors", "is": "yes"},
        "otherwise": OTHERWISE,
        "rules": [rule(**WIND)],
    }
    (only,) = read_pack(HEAD, {"topic": topic}, VOCABULARY).rules
    assert [clause.otherwise.en for clause in only.clauses] == ["Indoors."]
    assert "not_applicable" in only.possible()


def test_a_rule_that_does_not_apply_says_why() -> None:
    found = finding(rule(**WIND, when={"fact": "site.indoors", "is": "yes"}, otherwise=OTHERWISE))
    assert (found.outcome, found.message.say("es"), found.about) == (
        "not_applicable",
        "Dentro.",
        ("site.indoors",),
    )


@pytest.mark.parametrize("character", ["\x00", "\x1b", "\x7f", "\ud800"])
def test_text_that_cannot_be_printed_is_refused(character: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(rule(**WIND, cite=f"Example Act {character}"))
    assert (caught.value.wording_id, caught.value.place[-1]) == ("rule/unprintable", "cite")


def test_a_false_condition_outweighs_an_unknown_one() -> None:
    both = {"all": [{"fact": "customer.phone", "is": "1"}, {"fact": "site.indoors", "is": "yes"}]}
    assert finding(rule(**WIND, when=both, otherwise=OTHERWISE)).outcome == "not_applicable"


def test_the_head_keeps_what_a_reader_must_know() -> None:
    full = pack(
        rule(**WIND),
        reminders=[{"cite": "Act 2", "says": TEXT}],
        leaves_out=[TEXT],
        until="2030-01-01",
        **{"from": "2001-01-01"},
    )
    assert full.sources["act"].title == "An act"
    assert full.reminders[0].cite == "Act 2"
    assert full.leaves_out[0].en == "text"
    assert str(full.span.until) == "2030-01-01"
    assert (str(full.reviewed_on), full.by_means) == ("2026-11-25", "read")


@pytest.mark.parametrize(
    ("head", "wording"),
    [
        ({"pack": None}, "rule/missing_key"),
        ({"sources": {"act": "text"}}, "rule/expected_mapping"),
        ({"questions": {"xx/question/a": {"asks": TEXT}}}, "rule/missing_key"),
        ({"reminders": [{"cite": "x"}]}, "rule/missing_key"),
        ({"reminders": [{"cite": "x", "says": TEXT, "who": "y"}]}, "rule/unknown_key"),
        ({"leaves_out": []}, "rule/expected_list"),
        ({"in_part": "no"}, "rule/unknown_word"),
    ],
)
def test_a_head_outside_the_form_is_refused(head: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(rule(**WIND), **head)
    assert (caught.value.wording_id, caught.value.place[0]) == (wording, "pack.yaml")


def test_a_place_whose_law_is_stated_in_part_stays_among_those_not_covered() -> None:
    light = {"weather.readings[0].wind_speed": {"value": "9", "unit": "mph"}}
    whole, part = check(rule(**WIND), changes=light), check(rule(**WIND), changes=light, in_part="yes")
    assert (whole.not_covered, part.not_covered) == ((), ("us-wa",))
    assert (str(whole.outcome), str(part.outcome)) == ("met", "cant_tell")
    assert [found.outcome for found in part.findings if found.pack == "xx"] == ["met"]


def test_a_pack_must_be_keys_and_values() -> None:
    with pytest.raises(RuleError) as caught:
        Params([], Setting(VOCABULARY, "document", {}))
    assert caught.value.wording_id == "rule/expected_mapping"
    assert caught.value.say("es") == "se esperaban claves y valores"
