"""The firm's answers to open questions: read by the rules, shown on every finding that hangs on them."""

from typing import Any

import pytest

from compliance.check import Check
from compliance.check_text import check_text
from compliance.compare import compare
from compliance.determinations import rules_by_question
from compliance.pack_reader import registered_packs
from tests.compliance.rulebook.builders import TEXT, WIND, check, pack, rule

ROOFS = "xx/question/roofs"
HANGING = rule(
    **{**WIND, "id": "xx/hangs"}, when={"not": {"all": [{"question": ROOFS, "is": "no"}]}}, otherwise=TEXT
)
FREE = rule(**WIND)
ANSWER = {
    "question": ROOFS,
    "answer": "yes",
    "by": "J. Quill",
    "advice": "the office, by letter",
    "valid_from": "2026-01-01",
    "valid_to": "2026-12-31",
}


def answered(**changes: Any) -> Check:
    return check(HANGING, FREE, context={"determinations": [{**ANSWER, **changes}]})


def hanging(made: Check) -> dict[str, list[dict[str, str]]]:
    return {
        one["rule"]: one["hangs_on"] for one in made.stored()["findings"] if one["rule"].startswith("xx/")
    }


def test_a_finding_that_hangs_on_an_answer_says_so_and_no_other_does():
    said = hanging(answered())
    assert said["xx/wind"] == []
    assert said["xx/hangs"] == [
        {
            "en": "This hangs on your firm's own answer to an open question. Is a roof land? yes (J. Quill; "
            "on advice: the office, by letter; from 2026-01-01; until 2026-12-31, that day included).",
            "es": "Esto depende de la respuesta de su propia empresa a una pregunta abierta. ¿Es un tejado "
            "un terreno? yes (J. Quill; con asesoramiento: the office, by letter; desde 2026-01-01; hasta "
            "2026-12-31, inclusive).",
        }
    ]


def test_the_stored_check_keeps_the_answer_with_the_rules_that_hang_on_it():
    (kept,) = answered().stored()["determinations"]
    assert {key: kept[key] for key in ANSWER} == ANSWER
    assert kept["rules"] == ["xx/hangs"]


def test_an_answer_is_shown_also_where_it_keeps_the_rule_from_applying():
    made = answered(answer="no")
    (finding,) = [one for one in made.findings if one.rule == "xx/hangs"]
    assert finding.outcome == "not_applicable"
    assert hanging(made)["xx/hangs"]


@pytest.mark.parametrize(
    "changes", [{"valid_from": "2026-12-01"}, {"valid_to": "2026-01-02"}, {"answer": None}]
)
def test_an_answer_that_does_not_hold_on_the_day_is_not_rested_on(changes):
    made = answered(**changes)
    assert made.determinations == ()
    assert [question.id for question in made.questions] == [ROOFS]


def test_the_command_says_what_a_finding_hangs_on():
    lines = check_text(answered(advice=None), "en").splitlines()
    (said,) = [line for line in lines if "hangs on your firm's own answer" in line]
    assert "yes (J. Quill; from 2026-01-01" in said


def test_two_checks_with_different_answers_tell_them():
    before, after = (answered(answer=answer).stored() for answer in ("yes", "no"))
    kinds = [difference.kind for difference in compare(before, after).differences]
    assert {"answer", "outcome", "context"} <= set(kinds)


def test_a_question_asked_for_all_rules_of_a_file_is_found_too():
    made = pack(HANGING, FREE)
    assert rules_by_question(made) == {ROOFS: {"xx/hangs"}}
    # the rules of Florida's licence file all ask whether the job is pest control
    (florida,) = [one for one in registered_packs() if one.id == "us-fl"]
    assert any("licence" in rule for rule in rules_by_question(florida)["us-fl/question/pest-control"])
