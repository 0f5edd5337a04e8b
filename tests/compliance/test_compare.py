"""The difference between two checks, said in words."""

import copy
from typing import Any

import pytest

from compliance.check import check_document
from compliance.compare import compare
from compliance.rulebook.pack import Pack
from records.document.context import read_context
from records.document.reader import read
from tests.compliance.patched import load, patched
from tests.compliance.rulebook.builders import RULE, WIND, pack, rule

GUST = {"id": "xx/gust", "kind": "limit", "quantity": "gust", "max": "15 mph"}


def checked(*packs: Pack, changes: dict[str, Any] | None = None) -> dict[str, Any]:
    document = patched(load("documents/example.json"), changes or {})
    document["site"]["jurisdictions"] = ["us-wa"]
    del document["mixes"][0]["products"][0]["label"]["limits"]
    return check_document(read(document), read_context({"on": "2026-09-15"}), packs=packs).stored()


def limit(most: str, **head: Any) -> Pack:
    return pack(rule(**{**WIND, "max": most}, **head.pop("keys", {})), **head)


def kinds(before: dict, after: dict) -> list[str]:
    return [difference.kind for difference in compare(before, after).differences]


def test_a_check_and_itself_say_the_same():
    check = checked(limit("10 mph"))
    comparison = compare(check, copy.deepcopy(check))
    assert not comparison.differs
    assert comparison.in_words("en") == ["The two checks say the same."]
    assert comparison.in_words("es") == ["Las dos comprobaciones dicen lo mismo."]


def test_a_tightened_limit_is_told_with_its_outcome_bound_and_pack():
    before, after = checked(limit("10 mph")), checked(limit("1 mph", version="2"))
    said = compare(before, after).in_words("en")
    assert kinds(before, after) == ["whole", "outcome", "bound", "limit", "pack"]
    assert said[0] == "The whole: can't tell before, not met now."
    assert said[1].startswith("Title (Example Act 1(a)): met before, not met now. Wind")
    assert said[2] == "Title (Example Act 1(a)): the bound was at most 10 mph, now it is at most 1 mph."
    assert said[3].endswith("at most 10 mph (Example Act 1(a)) before, at most 1 mph (Example Act 1(a)) now.")
    assert said[4] == "Invented law: version 1 before, 2 now."


def test_a_limit_changed_from_at_most_to_between_is_said_whole():
    after = checked(pack(rule(**{**WIND, "min": "1 mph"})))
    said = compare(checked(limit("10 mph")), after).in_words("es")
    assert any("ahora es al menos 1 mi/h, como máximo 10 mi/h." in sentence for sentence in said)


def test_rules_that_came_and_went_are_told():
    one, two = pack(rule(**WIND)), pack(rule(**WIND), rule(**GUST), version="2")
    assert kinds(checked(one), checked(two))[:2] == ["came", "limit_came"]
    assert kinds(checked(two), checked(one))[:2] == ["went", "limit_went"]
    assert compare(checked(one), checked(two)).differences[0].rule == "xx/gust"


def test_a_paragraph_alone_changes_words_and_not_how_a_record_comes_out():
    moved = pack(rule(**WIND, cite="Example Act 2(b)"), version="2")
    before, after = checked(limit("10 mph")), checked(moved)
    # the limit in force names the paragraph, too, and is the same limit
    assert kinds(before, after) == ["cite", "limit_by", "pack"]
    assert not compare(before, after).differs
    assert (
        compare(before, after).in_words("en")[0]
        == "Title rests on Example Act 2(b); before, on Example Act 1(a)."
    )


def test_a_duty_that_becomes_advice_is_told():
    after = checked(pack(rule(**WIND, level="advised"), version="2"))
    assert "level" in kinds(checked(limit("10 mph")), after)


def test_one_version_with_two_contents_is_told_by_digest():
    before, after = checked(limit("10 mph")), checked(limit("10 mph", keys={"mend": RULE["reason"]}))
    (said,) = compare(before, after).in_words("en")
    assert before["packs"][0]["digest"] in said and after["packs"][0]["digest"] in said


def test_a_law_without_a_pack_any_more_is_told():
    said = compare(checked(limit("10 mph")), checked()).in_words("en")
    assert "No rule pack covers us-wa; one did before." in said
    assert "Invented law, 1, is not among the rules any more." in said


def test_findings_of_one_rule_are_matched_by_what_they_judge():
    """The second product's outcome changes and the first one's does not."""
    check = checked(limit("10 mph"))
    finding = next(one for one in check["findings"] if one["rule"] == "xx/wind")
    first, second = ({**finding, "about": [f"mixes[0].products[{n}].label"]} for n in (0, 1))
    before = {**check, "findings": [first, second]}
    after = {**check, "findings": [{**second, "outcome": "cant_tell"}, first]}
    assert kinds(before, after) == ["outcome"]


@pytest.mark.parametrize("member", ["document", "context", "on", "engine"])
def test_what_else_the_checks_were_made_from_is_told_if_it_differs(member):
    check = checked(limit("10 mph"))
    comparison = compare(check, {**check, member: "otherwise"})
    assert [difference.kind for difference in comparison.differences] == [member]
    assert not comparison.differs
    assert all(comparison.in_words(language)[0] for language in ("en", "es"))


def test_every_example_compared_with_every_other_has_a_sentence_for_each_difference():
    """Whole checks with all packs, in both languages: no blank is left out."""
    context = read_context(load("documents/example-context.json"))
    names = ("full", "example", "metric", "stood-down")
    checks = [check_document(read(load(f"documents/{name}.json")), context).stored() for name in names]
    for before in checks:
        for after in checks:
            for language in ("en", "es"):
                said = compare(before, after).in_words(language)
                assert not [sentence for sentence in said if "{" in sentence or "None" in sentence]
