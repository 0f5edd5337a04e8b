"""Each notice goes out once, or stands there as not sent or perhaps sent: never lost, never doubled."""

from datetime import datetime, timedelta
from uuid import UUID

import pytest

from records.models import Attempt, Notice, NoticeTask
from records.outbox.answers import Answer, Came
from records.outbox.queueing import queue
from records.outbox.sending import LONGEST_SENDING, SENDERS, claim, mend, send_next
from records.outbox.tasks import send_due
from shared import clock
from tests.records.outbox.pieces import PIECE, piece

LATEST = datetime.fromisoformat("2026-09-12T09:00:00-07:00")


def sent(notice: Notice) -> Notice:
    send_next(notice.firm)
    notice.refresh_from_db()
    return notice


def tasks(firm) -> list[str]:
    open_ones = NoticeTask.objects.for_firm(firm).filter(done_at=None)
    return list(open_ones.values_list("kind", flat=True))


def test_a_notice_goes_out_with_its_words_files_and_the_link(mail_server, notice):
    assert sent(notice).state == "sent"
    (mail,) = mail_server.taken
    text = mail.get_body().get_content()
    assert mail["To"] == "sandoval@example.net"
    assert mail["Subject"] == PIECE.subject
    assert "Quillfeather Exterior Care" in mail["From"]
    assert mail["Auto-Submitted"] == "auto-generated"
    assert mail["Reply-To"] == notice.made_by.email
    assert PIECE.text in text
    assert f"/told/{notice.token}/" in text
    assert "Vea aquí" in text
    (file,) = mail.iter_attachments()
    assert file.get_content_type() == "text/calendar"
    assert notice.sent_at == clock.now()
    assert tasks(notice.firm) == []


def test_what_is_sent_is_not_sent_again(mail_server, notice, draft, member):
    sent(notice)
    assert queue(draft, [PIECE], member.user) == 0
    assert send_next(notice.firm) is None
    assert len(mail_server.taken) == 1


@pytest.mark.parametrize(
    ("where", "how", "state", "taken"),
    [
        ("connect", "dies", "ready", 0),
        ("EHLO", "dies", "ready", 0),
        ("MAIL", "dies", "ready", 0),
        ("MAIL", "is silent", "ready", 0),
        ("RCPT", "dies", "ready", 0),
        ("DATA", "dies", "ready", 0),
        ("RCPT", "450 4.2.0 greylisted, come back", "ready", 0),
        ("RCPT", "550 5.1.1 no such user", "refused", 0),
        ("MAIL", "552 5.3.4 too big", "refused", 0),
        ("DATA", "554 5.7.1 not welcome", "refused", 0),
        ("body", "451 4.3.0 disk is full", "ready", 0),
        ("body", "550 5.7.1 looks like spam", "refused", 0),
        ("body", "dies", "unsure", 0),
        ("dot", "dies", "unsure", 1),
        pytest.param("dot", "is silent", "unsure", 1, marks=pytest.mark.long),
    ],
)
def test_what_became_of_it_follows_from_where_the_session_broke(mail_server, notice, where, how, state, taken):
    mail_server.failing = (where, how)
    assert sent(notice).state == state
    mail_server.failing = ("", "")
    for _ in range(3):
        notice.firm.refresh_from_db()
        send_next(notice.firm)
    notice.refresh_from_db()
    assert notice.state == state
    assert len(mail_server.taken) == taken
    expected = {"ready": [], "refused": ["refused"], "unsure": ["unsure"]}[state]
    assert tasks(notice.firm) == expected


def test_the_words_of_the_other_server_are_kept_and_given_to_the_office(mail_server, notice):
    mail_server.failing = ("RCPT", "550 5.1.1 no such user")
    sent(notice)
    (attempt,) = notice.attempts.all()
    assert attempt.answer == "550 5.1.1 no such user"
    assert notice.tasks.get().words == attempt.answer


def test_what_was_put_off_is_tried_again_and_goes_out_once(mail_server, notice, time_machine):
    mail_server.failing = ("RCPT", "450 4.2.0 greylisted")
    sent(notice)
    assert notice.next_try == clock.now() + timedelta(minutes=2)
    mail_server.failing = ("", "")
    time_machine.shift(timedelta(minutes=3))
    assert sent(notice).state == "sent"
    assert len(mail_server.taken) == 1
    assert [each.kind for each in notice.attempts.all()] == ["later", "accepted"]


def test_a_server_that_never_answers_is_given_up_while_the_office_still_has_time(
    settings, before, waiting, draft, member, time_machine
):
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 9
    queue(draft, [piece(latest=LATEST)], member.user)
    notice = Notice.objects.for_firm(draft.firm).get()
    waits = []
    while sent(notice).state == "ready":
        waits.append(notice.next_try - clock.now())
        time_machine.move_to(notice.next_try, tick=False)
    assert notice.state == "refused"
    assert tasks(draft.firm) == ["too_late"]
    assert waits[:4] == [timedelta(minutes=many) for many in (2, 4, 8, 16)]
    assert clock.now() == LATEST - timedelta(hours=2)


def test_a_notice_that_would_come_too_late_is_not_sent_but_shown(mail_server, notice, time_machine):
    time_machine.move_to(PIECE.planned_at, tick=False)
    assert sent(notice).state == "refused"
    assert tasks(notice.firm) == ["too_late"]
    assert mail_server.taken == []


@pytest.mark.parametrize("ahead", [timedelta(minutes=90), timedelta(hours=-1)])
def test_what_is_made_shortly_before_its_limit_or_after_it_is_tried_once(
    mail_server, before, waiting, draft, member, ahead
):
    queue(draft, [piece(latest=clock.now() + ahead)], member.user)
    assert sent(Notice.objects.for_firm(draft.firm).get()).state == "sent"
    assert len(mail_server.taken) == 1


def test_what_fails_shortly_before_its_limit_is_given_to_the_office_at_once(
    mail_server, before, waiting, draft, member
):
    mail_server.failing = ("RCPT", "450 4.2.0 greylisted")
    queue(draft, [piece(latest=clock.now() + timedelta(minutes=90))], member.user)
    notice = sent(Notice.objects.for_firm(draft.firm).get())
    assert (notice.state, notice.tasks.get().words) == ("refused", "450 4.2.0 greylisted")
    assert tasks(draft.firm) == ["too_late"]


def test_a_worker_that_comes_late_still_makes_the_last_try(
    mail_server, before, waiting, draft, member, time_machine
):
    mail_server.failing = ("RCPT", "450 4.2.0 greylisted")
    queue(draft, [piece(latest=clock.now() + timedelta(minutes=122))], member.user)
    notice = sent(Notice.objects.for_firm(draft.firm).get())
    mail_server.failing = ("", "")
    time_machine.move_to(notice.next_try + timedelta(seconds=20), tick=False)
    assert sent(notice).state == "sent"


def test_what_is_sent_of_a_visit_that_is_over_is_put_off_for_a_day(
    mail_server, waiting, draft, member, time_machine
):
    time_machine.move_to(PIECE.planned_at + timedelta(days=1), tick=False)
    mail_server.failing = ("RCPT", "450 4.2.0 greylisted")
    queue(draft, [PIECE], member.user)
    notice = sent(Notice.objects.for_firm(draft.firm).get())
    assert (notice.state, notice.next_try) == ("ready", clock.now() + timedelta(minutes=2))


def test_two_workers_never_have_the_same_notice(notice):
    assert claim(notice.firm).pk == notice.pk
    assert claim(notice.firm) is None


def test_what_a_killed_worker_held_is_for_a_person_to_ask_and_is_not_sent_again(
    mail_server, notice, time_machine
):
    claim(notice.firm)
    assert mend(notice.firm) == 0
    time_machine.shift(LONGEST_SENDING)
    assert mend(notice.firm) == 1
    assert sent(notice).state == "unsure"
    assert tasks(notice.firm) == ["unsure"]
    assert mail_server.taken == []


def test_names_add_no_header(mail_server, before, waiting, draft, member):
    hostile = piece(
        name="A\r\nBcc: spy@example.net", subject="Roof\r\nBcc: spy@example.net\r\n\r\nBody", neighbour=None
    )
    draft.firm.name = "Quill\r\nBcc: spy@example.net"
    draft.firm.save()
    queue(draft, [hostile], member.user)
    send_next(draft.firm)
    (mail,) = mail_server.taken
    assert mail["Bcc"] is None
    assert mail["Subject"] == "Roof Bcc: spy@example.net Body"


def test_an_address_that_is_none_is_refused_before_any_server_is_asked(waiting, before, draft, member):
    queue(draft, [piece(email="nobody@@example"), piece(email="", neighbour=None)], member.user)
    send_next(draft.firm)
    assert tasks(draft.firm) == ["refused", "refused"]


def test_the_worker_comes_again_by_itself_until_nothing_is_open(
    mail_server, notice, waiting, time_machine, django_capture_on_commit_callbacks
):
    mail_server.failing = ("RCPT", "450 4.2.0 greylisted")
    send_due.call(str(notice.firm_id))
    assert waiting().count() >= 1
    waiting().delete()
    mail_server.failing = ("", "")
    time_machine.shift(timedelta(minutes=3))
    send_due.call(str(notice.firm_id))
    waiting().delete()
    send_due.call(str(notice.firm_id))
    assert waiting().count() == 0
    assert len(mail_server.taken) == 1


def test_a_fault_of_ours_ends_one_notices_try_alone_and_says_that_it_may_have_gone_out(
    mail_server, monkeypatch, notice, draft, member
):
    def faulty(_notice):
        raise UnicodeEncodeError("ascii", "ñ", 0, 1, "not in range")

    queue(draft, [piece(means="text-message")], member.user)
    monkeypatch.setitem(SENDERS, "text-message", faulty)
    send_due.call(str(draft.firm_id))
    rows = Notice.objects.for_firm(draft.firm)
    assert dict(rows.values_list("means", "state")) == {"email": "sent", "text-message": "unsure"}


def test_a_sender_that_is_slow_keeps_the_worker_from_others_for_a_minute_at_most(
    monkeypatch, notice, draft, member, time_machine
):
    def slow(_notice):
        time_machine.shift(50)
        return Answer(Came.REFUSED, "")

    queue(draft, [piece(neighbour=UUID(int=at), email=f"n{at}@example.net") for at in range(4)], member.user)
    monkeypatch.setitem(SENDERS, "email", slow)
    refused = Notice.objects.for_firm(draft.firm).filter(state="refused")
    for count in (2, 4, 5):
        send_due.call(str(draft.firm_id))
        assert refused.count() == count


def test_attempts_can_t_be_changed(notice):
    claimed = claim(notice.firm)
    attempt = Attempt.objects.create(notice=claimed, kind="later")
    with pytest.raises(TypeError):
        attempt.save()
