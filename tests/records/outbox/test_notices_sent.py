"""What has become of each notice stands on one page; what people do by hand is kept with its proof."""

import hashlib
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from records.models import Attempt, NotByMeans, Notice, NoticeTask, Photo, Treatment
from records.outbox.queueing import queue
from records.outbox.results import result
from records.outbox.sending import claim, send_next
from records.services import photo_store
from records.services.photo_evidence import attach
from records.services.photos import keep_whole
from tests.factories import MembershipFactory
from tests.pictures import jpeg
from tests.records.auditing.entries import newest
from tests.records.outbox.pieces import PIECE, piece
from tests.records.outbox.test_printing import drawn


@pytest.fixture
def office(client, firm, before, waiting):
    client.force_login(MembershipFactory(firm=firm, role="office", user__name="O. Fice").user)
    return client


@pytest.fixture
def queued(draft, member, before, waiting):
    def make(**changes) -> Notice:
        queue(draft, [piece(**changes)], member.user)
        return Notice.objects.for_firm(draft.firm).order_by("-made_at").get(digest=piece(**changes).digest)

    return make


def page(client, draft) -> str:
    return client.get(reverse("notices_sent", kwargs={"uuid": draft.pk})).content.decode()


def do(client, notice, deed: str, **more):
    where = reverse("notice_deed", kwargs={"uuid": notice.treatment_id, "notice": notice.pk})
    answer = client.post(where, {"deed": deed, **more})
    notice.refresh_from_db()
    return answer


def test_the_page_shows_each_notice_with_its_state_attempts_and_digest(office, mail_server, queued, draft):
    notice = queued()
    mail_server.failing = ("RCPT", "550 5.1.1 no such user")
    send_next(draft.firm)
    shown = page(office, draft)
    for words in ("P. Sandoval", "Not delivered", "550 5.1.1 no such user", notice.digest, PIECE.text):
        assert words in shown


def test_a_door_card_is_printed_and_handed_over_with_a_photo(office, queued, draft):
    notice = queued(means="door")
    do(office, notice, "printed")
    assert notice.state == "printed"
    photo = SimpleUploadedFile("door.jpg", jpeg(), "image/jpeg")
    do(office, notice, "handed_over", words="in the letter box", photo=photo, at="2026-09-10T09:00")
    assert notice.state == "delivered"
    assert notice.delivered_at.isoformat() == "2026-09-10T16:00:00+00:00"
    last = notice.attempts.get(kind="handed_over")
    assert (last.by.name, last.answer, len(last.photo)) == ("O. Fice", "in the letter box", 64)
    assert f"photos/{last.photo}/" in page(office, draft)


@pytest.fixture
def proven(office, queued):
    """A door card that was handed over, as a photo shows."""
    notice = queued(means="door")
    do(office, notice, "handed_over", photo=SimpleUploadedFile("door.jpg", jpeg(), "image/jpeg"))
    return notice.attempts.get(kind="handed_over").photo


@pytest.mark.parametrize("state", ["draft", "correcting", "signed"])
def test_nobody_takes_out_the_photo_that_proves_a_hand_over(client, proven, draft, member, state):
    Treatment.objects.for_firm(draft.firm).filter(pk=draft.pk).update(state=state)
    client.force_login(member.user)
    client.post(reverse("remove_photo", kwargs={"uuid": draft.pk, "sha256": proven}), {"step": "none"})
    photo = Photo.objects.for_firm(draft.firm).get(sha256=proven)
    assert photo_store.original(photo).exists()


def test_of_a_deed_that_there_is_not_no_photo_is_kept(office, queued, draft):
    photo = SimpleUploadedFile("door.jpg", jpeg(), "image/jpeg")
    do(office, queued(means="door"), "bogus", photo=photo)
    assert not Photo.objects.for_firm(draft.firm).exists()


@pytest.mark.parametrize(
    ("at", "fault"),
    [
        ("2026-09-11T08:30", "This moment is still to come."),
        ("2026-09-10T08:29", "This is before the notice was made."),
        ("soon", "This is not a day and a time."),
        ("2026-03-08T02:30", "This is not a day and a time."),
        ("0001-01-01T00:00Z", "This is before the notice was made."),
        ("0001-01-01T00:00+14:00", "This is not a day and a time."),
        ("9999-12-31T23:59", "This is not a day and a time."),
    ],
)
def test_a_moment_that_can_t_be_meant_is_refused_beside_its_field_and_what_was_typed_is_kept(
    office, queued, time_machine, at, fault
):
    time_machine.move_to("2026-09-10T15:30:40Z", tick=False)
    notice = queued(means="door")
    time_machine.move_to("2026-09-10T16:00:00Z", tick=False)
    answer = do(office, notice, "handed_over", words="to her <son>", at=at)
    shown = answer.content.decode()
    field = shown[shown.index(f'for="at-{notice.pk}"') :].split("</p>")[0]
    assert (answer.status_code, notice.state, notice.attempts.count()) == (422, "ready", 0)
    assert fault in field
    assert f'value="{at}"' in field
    assert 'value="to her &lt;son&gt;"' in shown
    assert "<details open>" in shown


def test_a_paper_may_be_handed_over_in_the_minute_in_which_it_was_made(office, queued, time_machine):
    time_machine.move_to("2026-09-10T15:30:40Z", tick=False)
    notice = queued(means="door")
    do(office, notice, "handed_over", at="2026-09-10T08:30")
    assert notice.state == "delivered"


def test_a_file_that_is_no_photo_is_refused_beside_its_field(office, queued):
    notice = queued(means="door")
    no_photo = SimpleUploadedFile("a.jpg", b"x", "image/jpeg")
    answer = do(office, notice, "handed_over", words="my words", photo=no_photo)
    shown = answer.content.decode()
    assert (answer.status_code, notice.state) == (422, "ready")
    assert "no picture that can be read" in shown[shown.index(f'for="photo-{notice.pk}"') :].split("</p>")[0]
    assert 'value="my words"' in shown


@pytest.mark.parametrize(
    ("deed", "state"),
    [("spoken", "delivered"), ("voicemail", "voicemail"), ("no_answer", "ready"), ("wrong_number", "refused")],
)
def test_what_came_of_a_phone_call_is_kept(office, queued, draft, deed, state):
    notice = queued(means="phone")
    assert "tel:+13605550142" in page(office, draft)
    do(office, notice, deed, words="at noon")
    assert notice.state == state
    assert notice.attempts.get().kind == deed
    assert NoticeTask.objects.for_firm(draft.firm).exists() == (deed == "wrong_number")


def test_a_withdrawn_notice_does_not_go_out(office, mail_server, queued, firm):
    notice = queued()
    do(office, notice, "withdrawn")
    assert send_next(firm) is None
    assert (notice.state, mail_server.taken) == ("withdrawn", [])


def test_who_withdraws_what_was_not_taken_has_not_told_the_person_another_way(office, mail_server, queued):
    notice = queued()
    result(notice, Attempt.Kind.REFUSED, "550 no such user")
    do(office, notice, "withdrawn")
    assert notice.state == "withdrawn"
    assert notice.tasks.get().done_at is None


def test_what_is_being_sent_can_t_be_withdrawn(office, queued, firm):
    notice = queued()
    claim(firm)
    do(office, notice, "withdrawn")
    assert notice.state == "sending"


def test_a_person_settles_what_is_unsure_and_the_task_is_gone(office, mail_server, queued, firm):
    notice = queued()
    result(notice, Attempt.Kind.BROKEN_OFF)
    do(office, notice, "again")
    assert notice.state == "ready"
    assert not NoticeTask.objects.for_firm(firm).filter(done_at=None).exists()
    send_next(firm)
    assert len(mail_server.taken) == 1


def test_who_does_not_want_e_mail_is_not_mailed_again(office, mail_server, queued, firm):
    do(office, queued(), "not_wanted")
    assert NotByMeans.objects.for_firm(firm).get().reached == "sandoval@example.net"
    queued(text="Another word.")
    assert send_next(firm) is None


def test_an_attachment_is_printed_again_and_that_is_noted(office, queued, firm):
    notice = queued(means="letter")
    where = reverse("notice_file", kwargs={"uuid": notice.treatment_id, "notice": notice.pk, "place": 0})
    assert office.get(where).content == PIECE.attachments[0].content
    assert (newest(firm).kind, newest(firm).thing) == ("printed", "records.notice")


def test_a_crew_is_shown_nothing_of_a_registered_person_and_prints_nothing_of_theirs(
    client, queued, draft, member
):
    words = {"name": "R. Egistered", "text": "Am I speaking with R. Egistered?", "subject": "For R. Egistered"}
    notice = queued(to="registered-person", means="letter", attachments=(drawn("Egistered"),), **words)
    client.force_login(member.user)
    shown = page(client, draft)
    assert "The office tells this person." in shown
    for hidden in ("Egistered", "12 Heron Row", "555 0142", "sandoval@example.net", "What was done", "Print"):
        assert hidden not in shown
    assert do(client, notice, "handed_over").status_code == 404
    where = reverse("notice_file", kwargs={"uuid": draft.pk, "notice": notice.pk, "place": 0})
    assert client.get(where).status_code == 404
    assert client.post(reverse("print_papers", kwargs={"uuid": draft.pk})).status_code == 302
    notice.refresh_from_db()
    assert notice.state == "ready"


def test_the_office_sees_its_tasks_on_the_first_page_and_ticks_them_off(office, queued, draft):
    notice = queued()
    result(notice, Attempt.Kind.REFUSED, "550 no such user")
    home = office.get(reverse("home")).content.decode()
    assert "It was not taken: tell this person another way" in home
    assert "12 Heron Row" in home
    office.post(reverse("notice_task_done", kwargs={"uuid": notice.tasks.get().pk}))
    assert notice.tasks.get().done_by.name == "O. Fice"
    assert "tell this person another way" not in office.get(reverse("home")).content.decode()


def status_of(client, where) -> int:
    answer = client.get(where)
    answer.getvalue()
    return answer.status_code


@pytest.mark.parametrize(
    ("to", "status"),
    [(("registered-person",), 404), (("neighbour",), 200), (("registered-person", "neighbour"), 200)],
)
def test_a_crew_sees_a_photo_of_a_deed_as_it_sees_the_notice(client, office, queued, draft, member, to, status):
    for one in to:
        photo = SimpleUploadedFile("door.jpg", jpeg(), "image/jpeg")
        do(office, queued(means="door", to=one), "handed_over", photo=photo)
    shown = Photo.objects.for_firm(draft.firm).get()
    where = reverse("photo", kwargs={"uuid": draft.pk, "sha256": shown.sha256})
    assert status_of(client, where) == 200
    client.force_login(member.user)
    assert status_of(client, where) == status


def test_a_crew_does_not_see_it_by_naming_it_as_a_photo_of_the_work(client, office, queued, ticked, member):
    proof = SimpleUploadedFile("door.jpg", jpeg(), "image/jpeg")
    do(office, queued(means="door", to="registered-person"), "handed_over", photo=proof)
    photo = Photo.objects.for_firm(ticked.firm).get()
    attach(photo, "storm-drains-covered", member.user)
    client.force_login(member.user)
    where = reverse("photo", kwargs={"uuid": ticked.pk, "sha256": photo.sha256})
    assert status_of(client, where) == 404


def test_a_photo_of_the_work_stays_one_when_the_office_proves_a_deed_with_it(
    client, office, queued, draft, member
):
    sent = SimpleUploadedFile("door.jpg", jpeg(), "image/jpeg")
    photo = keep_whole(draft, sent, hashlib.sha256(jpeg()).hexdigest(), member.user)
    proof = SimpleUploadedFile("door.jpg", jpeg(), "image/jpeg")
    do(office, queued(means="door", to="registered-person"), "handed_over", photo=proof)
    client.force_login(member.user)
    where = reverse("photo", kwargs={"uuid": draft.pk, "sha256": photo.sha256})
    assert status_of(client, where) == 200


def test_a_crew_has_no_tasks_of_the_office(client, queued, member):
    notice = queued()
    result(notice, Attempt.Kind.REFUSED)
    client.force_login(member.user)
    assert "tell this person another way" not in client.get(reverse("home")).content.decode()
    where = reverse("notice_task_done", kwargs={"uuid": notice.tasks.get().pk})
    assert client.post(where).status_code == 403


def test_a_stranger_finds_no_notice_of_ours(client, queued, stranger):
    notice = queued()
    result(notice, Attempt.Kind.REFUSED)
    client.force_login(stranger.user)
    assert do(client, notice, "withdrawn").status_code == 404
    where = reverse("notice_task_done", kwargs={"uuid": notice.tasks.get().pk})
    assert client.post(where).status_code == 404
    assert notice.state == "refused"


@pytest.mark.parametrize(("deed", "warned"), [("printed", 1), ("posted", 0), ("returned", 1)])
def test_what_may_still_be_given_and_tells_of_another_day_is_marked(office, queued, draft, deed, warned):
    notice = queued(means="letter")
    result(notice, deed)
    draft.refresh_from_db()
    draft.planned_at += timedelta(days=7)
    draft.save()
    assert page(office, draft).count("do not give it to anybody") == warned
