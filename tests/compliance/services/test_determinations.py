"""The firm's answers to open questions, recorded with their days."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError

from compliance.models import Determination
from compliance.services.check import check_treatment
from compliance.services.determinations import determinations_on, determine, open_questions

SPRING, SUMMER = date(2026, 3, 1), date(2026, 7, 1)


@pytest.fixture
def question(done) -> str:
    return check_treatment(done).stored()["questions"][0]["id"]


def test_an_answer_is_in_the_context_on_its_days(firm, question):
    answer = open_questions()[question].answers[0]
    determine(firm, question, answer, by="J. Quill", advice="the office", valid_from=SPRING, valid_to=SUMMER)
    assert determinations_on(firm, SPRING) == determinations_on(firm, SUMMER)
    assert determinations_on(firm, SPRING) == [
        {
            "question": question,
            "answer": answer,
            "by": "J. Quill",
            "advice": "the office",
            "valid_from": "2026-03-01",
            "valid_to": "2026-07-01",
        }
    ]
    assert determinations_on(firm, date(2026, 2, 28)) == determinations_on(firm, date(2026, 7, 2)) == []


def test_the_check_closes_the_question_and_says_on_whose_word(firm, done, question):
    determine(firm, question, open_questions()[question].answers[0], by="J. Quill", valid_from=SPRING)
    stored = check_treatment(done).stored()
    assert [(each["question"], each["by"]) for each in stored["determinations"]] == [(question, "J. Quill")]
    assert question not in [each["id"] for each in stored["questions"]]


def test_a_new_answer_ends_the_one_that_runs(firm, question):
    first, second = open_questions()[question].answers[:2]
    determine(firm, question, first, by="J. Quill", valid_from=SPRING)
    determine(firm, question, second, by="J. Quill", valid_from=SUMMER)
    ended = Determination.objects.for_firm(firm).get(answer=first)
    assert ended.valid_to == date(2026, 6, 30)
    assert ended.history.count() == 2
    assert [each["answer"] for each in determinations_on(firm, SUMMER)] == [second]


@pytest.mark.parametrize(
    ("changes", "wrong"),
    [
        ({"question": "us/question/none"}, "question"),
        ({"answer": "perhaps"}, "answer"),
        ({"valid_to": date(2026, 2, 1)}, "valid_to"),
        ({"by": ""}, "by"),
    ],
)
def test_what_no_pack_asks_or_allows_is_refused(firm, question, changes, wrong):
    answer = open_questions()[question].answers[0]
    given = {"question": question, "answer": answer, "by": "J. Quill", "valid_from": SPRING, **changes}
    with pytest.raises(ValidationError) as refused:
        determine(firm, **given)
    assert list(refused.value.message_dict) == [wrong]


def test_an_answer_before_a_later_one_that_has_begun_must_end_first(firm, question):
    first, second = open_questions()[question].answers[:2]
    determine(firm, question, first, by="J. Quill", valid_from=SUMMER)
    with pytest.raises(ValidationError, match="Another answer begins"):
        determine(firm, question, second, by="J. Quill", valid_from=SPRING)
    determine(firm, question, second, by="J. Quill", valid_from=SPRING, valid_to=date(2026, 6, 30))
    assert [each["answer"] for each in determinations_on(firm, SPRING)] == [second]


def test_another_firm_has_its_own_answers(firm, stranger, question):
    determine(firm, question, open_questions()[question].answers[0], by="J. Quill", valid_from=SPRING)
    assert determinations_on(stranger.firm, SPRING) == []
