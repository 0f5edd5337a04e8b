"""The page of a person who was told: the notice, what has changed, three answers, nothing of anybody else."""

from datetime import timedelta

import pytest
from django.urls import reverse

from records.models import NoticeTask
from records.outbox.queueing import queue
from records.outbox.results import result
from records.pages import proof
from tests.records.outbox.pieces import PIECE, piece
from tests.records.test_log import sign_now


@pytest.fixture
def where(notice) -> str:
    return reverse("told", kwargs={"token": notice.token})


def shown(client, where: str, status: int = 200) -> str:
    answer = client.get(where)
    assert answer.status_code == status
    return answer.content.decode()


def test_it_shows_the_notice_and_that_nothing_has_changed(client, where):
    page = shown(client, where)
    assert PIECE.text in page
    assert "Nothing has changed." in page
    assert "9:00" in page


def test_it_shows_nothing_of_other_people(client, where, draft, member):
    queue(draft, [piece(name="O. Ther", neighbour=None, text="For O. Ther alone.")], member.user)
    page = shown(client, where)
    for hidden in ("O. Ther", "A. Marlowe", "R. Osei", "P. Sandoval", str(draft.pk), draft.number):
        assert hidden not in page


def test_it_says_that_the_visit_moved_and_to_when(client, where, draft):
    draft.planned_at += timedelta(days=2)
    draft.save()
    page = shown(client, where)
    assert "The visit has moved." in page
    assert "2026-09-16" in page or "September 16" in page or "Sept. 16" in page


def test_it_says_that_the_visit_is_cancelled(client, where, draft, notice):
    result(notice, "withdrawn")
    assert "This visit is cancelled." in shown(client, where)


@pytest.mark.parametrize("kind", ["sensitive", "by_phone", "wrong_address"])
def test_each_answer_is_one_task_for_the_office(client, where, notice, kind):
    for _ in range(2):
        page = client.post(where, {"answer": kind, "words": "x" * 9000}).content.decode()
        assert "Thank you." in page
    (task,) = notice.tasks.all()
    assert (task.kind, len(task.words)) == (kind, 500)
    assert f'value="{kind}"' not in shown(client, where)


def test_no_other_kind_of_task_can_be_made_from_outside(client, where, firm):
    assert client.post(where, {"answer": "refused"}).status_code == 400
    assert not NoticeTask.objects.for_firm(firm).exists()


def test_thirty_days_after_the_record_it_says_that_it_is_over(client, where, done, member, time_machine):
    time_machine.move_to("2026-09-14T18:00:00Z", tick=False)
    done.refresh_from_db()
    sign_now(done, member)
    assert PIECE.text in shown(client, where)
    time_machine.shift(timedelta(days=30, seconds=1))
    page = shown(client, where, status=410)
    assert "This notice is over" in page
    assert PIECE.text not in page
    assert client.post(where, {"answer": "sensitive"}).status_code == 410
    assert not NoticeTask.objects.for_firm(member.firm).exists()


def test_it_sets_no_cookie_is_not_indexed_and_sends_no_referrer(client, where):
    for answer in (client.get(where), client.post(where, {"answer": "sensitive"})):
        assert not answer.cookies
        assert "noindex" in answer.headers["X-Robots-Tag"]
        assert answer.headers["Referrer-Policy"] == "no-referrer"


def test_an_unknown_address_and_too_many_questions_are_refused(client, where, monkeypatch):
    assert "There is no such notice" in shown(client, "/told/" + "0" * 32 + "/", status=404)
    monkeypatch.setattr(proof, "MOST_IN_A_MINUTE", 3)
    for _ in range(2):
        client.get(where)
    assert PIECE.text not in shown(client, where, status=429)


def test_it_speaks_the_language_of_the_notice_and_the_other_on_request(client, before, waiting, draft, member):
    queue(draft, [piece(languages=("es",))], member.user)
    where = reverse("told", kwargs={"token": draft.notices.get().token})
    assert "Nada ha cambiado." in shown(client, where)
    assert "Nothing has changed." in shown(client, where + "?language=en")
