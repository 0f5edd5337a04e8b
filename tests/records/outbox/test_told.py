"""The page of a person who was told: the notice, what has changed, three answers, nothing of anybody else."""

from datetime import timedelta

import pytest
from django.urls import reverse

from records.models import NotByMeans, NoticeTask, Treatment
from records.outbox.person_says import LONGEST_WORDS, MOST_MESSAGES
from records.outbox.queueing import queue
from records.outbox.results import result
from records.pages import proof
from shared import clock
from tests.factories import NeighbourFactory
from tests.records.logged import sign_now
from tests.records.outbox.pieces import PIECE, piece


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
    assert "When you were told, it was planned for" in page
    assert "2026-09-16" in page or "September 16" in page or "Sept. 16" in page


def test_it_says_that_the_visit_is_cancelled(client, where, draft):
    Treatment.objects.for_firm(draft.firm).update(result="stood-down")
    page = shown(client, where)
    assert "This visit is cancelled." in page
    assert "When you were told, it was planned for" in page


def test_of_a_notice_that_was_withdrawn_it_says_nothing_of_the_visit(client, where, notice):
    result(notice, "withdrawn")
    page = shown(client, where)
    assert "The firm has withdrawn this notice." in page
    assert "This visit is cancelled." not in page
    assert "Nothing has changed." not in page


@pytest.mark.parametrize("kind", ["sensitive", "by_phone", "other_way", "wrong_address"])
def test_each_answer_is_one_task_for_the_office(client, where, notice, kind):
    for _ in range(2):
        page = client.post(where, {"answer": kind}).content.decode()
        assert "Thank you." in page
        assert f'name="answer" value="{kind}"' not in page
    assert [task.kind for task in notice.tasks.all()] == [kind]


def test_each_message_is_kept_and_opens_the_task_again(client, where, notice, member):
    client.post(where, {"answer": "by_phone", "words": "x" * 9000})
    task = notice.tasks.get()
    assert len(task.words) == LONGEST_WORDS
    task.done_at, task.done_by = clock.now(), member.user
    task.save()
    client.post(where, {"answer": "by_phone", "words": "After five.\r\nNot on Monday."})
    task.refresh_from_db()
    assert task.words.endswith("x\n\nAfter five.\nNot on Monday.")
    assert (task.done_at, task.done_by) == (None, None)


def test_words_alone_are_a_task_and_none_at_all_are_asked_for(client, where, notice):
    assert client.post(where, {"answer": "words", "words": " "}).status_code == 422
    assert not notice.tasks.exists()
    for words in ("Is the dog safe?", "And the cat?"):
        assert "Thank you." in client.post(where, {"answer": "words", "words": words}).content.decode()
    assert notice.tasks.get().words == "Is the dog safe?\n\nAnd the cat?"


def test_after_ten_messages_the_person_is_asked_to_call_and_keeps_what_was_typed(client, where, notice):
    for number in range(MOST_MESSAGES):
        client.post(where, {"answer": "words", "words": f"Message {number}"})
    answer = client.post(where, {"answer": "words", "words": "One more <word>"})
    assert answer.status_code == 422
    assert "Please call the firm." in answer.content.decode()
    assert "One more &lt;word&gt;</textarea>" in answer.content.decode()
    assert "One more" not in notice.tasks.get().words


def test_a_wrong_press_is_taken_back_and_can_be_made_again(client, where, notice):
    client.post(where, {"answer": "sensitive"})
    page = client.post(where, {"take_back": "sensitive"}).content.decode()
    assert "Taken back." in page
    assert 'name="answer" value="sensitive"' in page
    task = notice.tasks.get()
    assert task.taken_back_at and task.done_at
    assert client.post(where, {"take_back": "sensitive"}).status_code == 400
    client.post(where, {"answer": "sensitive"})
    task.refresh_from_db()
    assert (task.taken_back_at, task.done_at) == (None, None)


def test_who_wants_no_e_mail_gets_none_there_any_more_until_they_take_it_back(client, where, notice, firm):
    client.post(where, {"answer": "other_way"})
    asked = NotByMeans.objects.for_firm(firm)
    assert [(one.means, one.reached, one.by) for one in asked] == [("email", "sandoval@example.net", None)]
    client.post(where, {"take_back": "other_way"})
    assert not asked.all().exists()


def test_what_the_office_wrote_down_is_not_taken_back_from_outside(client, where, notice, firm, member):
    NotByMeans.objects.create(firm=firm, means="email", reached="sandoval@example.net", by=member.user)
    client.post(where, {"answer": "other_way"})
    client.post(where, {"take_back": "other_way"})
    assert NotByMeans.objects.for_firm(firm).exists()


def test_only_whom_a_machine_has_told_is_offered_another_way(client, before, waiting, draft, member):
    queue(draft, [piece(means="letter")], member.user)
    where = reverse("told", kwargs={"token": draft.notices.get().token})
    assert "other_way" not in shown(client, where)
    assert client.post(where, {"answer": "other_way"}).status_code == 400


@pytest.mark.parametrize(("kind", "member_of_row"), [("sensitive", "sensitive"), ("by_phone", "wishes_phone")])
@pytest.mark.parametrize("before_it", [False, True])
def test_what_people_say_of_themselves_stays_with_their_row_and_goes_when_it_is_taken_back(
    client, where, draft, kind, member_of_row, before_it
):
    row = NeighbourFactory(firm=draft.firm, site=draft.site, uuid=PIECE.neighbour, **{member_of_row: before_it})
    client.post(where, {"answer": kind})
    row.refresh_from_db()
    assert getattr(row, member_of_row)
    client.post(where, {"take_back": kind})
    row.refresh_from_db()
    assert getattr(row, member_of_row) == before_it


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


@pytest.mark.parametrize(
    ("own", "asked", "said"),
    [("es", "en", "Nada ha cambiado."), ("", "es", "Nada ha cambiado."), ("", "en", "Nothing has changed.")],
)
def test_of_a_notice_in_two_languages_the_person_reads_their_own_else_their_browsers(
    client, where, draft, own, asked, said
):
    NeighbourFactory(firm=draft.firm, site=draft.site, uuid=PIECE.neighbour, language=own)
    page = client.get(where, headers={"accept-language": asked}).content.decode()
    assert said in page
    assert f'hreflang="{"en" if said.startswith("Nada") else "es"}"' in page


@pytest.fixture
def second(notice, draft, member) -> str:
    """The page of another notice to the same person."""
    queue(draft, [piece(text="Once more.")], member.user)
    return reverse("told", kwargs={"token": draft.notices.exclude(pk=notice.pk).get().token})


@pytest.mark.parametrize(("kind", "member_of_row"), [("sensitive", "sensitive"), ("by_phone", "wishes_phone")])
def test_what_was_said_of_two_notices_stays_until_it_is_taken_back_of_both(
    client, where, second, draft, kind, member_of_row
):
    row = NeighbourFactory(firm=draft.firm, site=draft.site, uuid=PIECE.neighbour)
    for page in (where, second):
        client.post(page, {"answer": kind})
    said = []
    for page in (where, second):
        client.post(page, {"take_back": kind})
        row.refresh_from_db()
        said.append(getattr(row, member_of_row))
    assert said == [True, False]


def test_who_asks_twice_for_another_way_gets_no_e_mail_until_both_are_taken_back(client, where, second, firm):
    for page in (where, second):
        client.post(page, {"answer": "other_way"})
    asked = []
    for page in (where, second):
        client.post(page, {"take_back": "other_way"})
        asked.append(NotByMeans.objects.for_firm(firm).count())
    assert asked == [1, 0]
