"""Open questions and the firm's own answers, on their pages."""

from html import unescape

import pytest
from django.urls import reverse

from compliance.models import Determination
from tests.factories import SiteFactory

QUESTION = "us-ny/question/ground"


@pytest.fixture
def address(firm) -> str:
    SiteFactory(firm=firm, jurisdictions=["us", "us-ny"])
    return reverse("question", kwargs={"question": QUESTION})


def typed(**changes: str) -> dict[str, str]:
    return {
        "answer": "no",
        "by": "J. Quill",
        "advice": "letter of 2 March",
        "valid_from": "2026-03-02",
    } | changes


def test_a_question_shows_what_hangs_on_it_and_whom_to_ask(client, member, address):
    client.force_login(member.user)
    page = unescape(client.get(address).content.decode())
    assert "Neighbors told 48 hours before" in page
    assert "Whom to ask:" in page and "Not answered." in page
    assert "Record this answer" not in page


def test_a_managers_answer_is_kept_with_its_history(client, firm, colleague, address):
    client.force_login(colleague.user)
    assert client.post(address, typed()).status_code == 302
    assert client.post(address, typed(answer="yes", valid_from="2026-06-01")).status_code == 302
    rows = Determination.objects.for_firm(firm).filter(question=QUESTION).order_by("valid_from")
    assert [(row.answer, str(row.valid_from), str(row.valid_to)) for row in rows] == [
        ("no", "2026-03-02", "2026-05-31"),
        ("yes", "2026-06-01", "None"),
    ]
    page = unescape(client.get(address).content.decode())
    assert "Your firm's answer: yes." in page
    assert page.count("by J. Quill") == 3


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"answer": "perhaps"}, "perhaps"),
        ({"by": ""}, "required"),
        ({"valid_to": "2026-01-01"}, "The last day is before the first."),
    ],
)
def test_what_cannot_be_an_answer_is_refused_in_words_and_kept_as_typed(
    client, firm, colleague, address, changes, said
):
    client.force_login(colleague.user)
    answer = client.post(address, typed(**changes))
    assert answer.status_code == 422
    page = unescape(answer.content.decode())
    assert said in page and "letter of 2 March" in page
    assert not Determination.objects.for_firm(firm).exists()


def test_only_a_manager_answers(client, firm, member, address):
    client.force_login(member.user)
    assert client.post(address, typed()).status_code == 403
    assert not Determination.objects.for_firm(firm).exists()


def test_a_question_of_a_place_where_the_firm_does_not_work_is_404(client, colleague, address, stranger):
    client.force_login(stranger.user)
    assert client.get(address).status_code == 404
    client.force_login(colleague.user)
    assert client.get(reverse("question", kwargs={"question": "us-ny/question/none"})).status_code == 404
