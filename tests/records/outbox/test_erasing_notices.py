"""Who was told and what it said goes with the record; that it went out, and when, stays."""

from datetime import timedelta

import pytest
from django.db import DatabaseError, transaction

from records.models import Attempt, KeptBytes, LegalHold, Notice, NoticeErasure
from records.outbox.erasing import KEPT_WITHOUT_RECORD, erase_old_notices
from records.outbox.queueing import queue
from records.outbox.sending import send_next
from records.services.erasing import erase
from shared import clock
from tests.records.logged import sign_now
from tests.records.outbox.pieces import PIECE, piece

PERSONAL = ("Sandoval", "Heron Row", "sandoval@example.net", "555 0142", "Roof treatment", "no such user")


def everything_said(notice: Notice) -> str:
    notice.refresh_from_db()
    row = {field.name: getattr(notice, field.attname) for field in notice._meta.fields}
    return f"{row} {list(notice.attempts.values())} {list(notice.tasks.values())} {list(notice.files.values())}"


@pytest.fixture
def refused(mail_server, notice) -> Notice:
    mail_server.failing = ("RCPT", "550 5.1.1 no such user")
    send_next(notice.firm)
    return notice


def test_notices_go_with_the_record_and_leave_digest_means_and_times(
    refused, done, member, colleague, time_machine
):
    with_time = (refused.digest, refused.planned_at, "email")
    time_machine.move_to("2026-09-14T18:00:00Z", tick=False)
    done.refresh_from_db()
    sign_now(done, member)
    done.refresh_from_db()
    today = clock.now().date()
    erase(done, today - timedelta(days=1), ["us-wa/keep"], today, colleague.user)
    said = everything_said(refused)
    assert not [words for words in PERSONAL if words in said]
    assert (refused.digest, refused.planned_at, refused.means) == with_time
    assert [each.kind for each in refused.attempts.all()] == ["refused"]
    assert not KeptBytes.objects.for_firm(done.firm).exists()


def test_bytes_that_another_notice_still_has_stay(notice, draft, member, time_machine):
    later = PIECE.planned_at + timedelta(days=300)
    queue(draft, [piece(planned_at=later, until=None)], member.user)
    time_machine.move_to(PIECE.planned_at + KEPT_WITHOUT_RECORD + timedelta(days=1), tick=False)
    assert erase_old_notices(draft.firm) == 1
    assert KeptBytes.objects.for_firm(draft.firm).count() == 1


def test_of_a_treatment_never_signed_they_go_a_year_after_its_day(notice, time_machine):
    time_machine.move_to(PIECE.planned_at + KEPT_WITHOUT_RECORD, tick=False)
    assert erase_old_notices(notice.firm) == 0
    time_machine.shift(timedelta(seconds=1))
    assert erase_old_notices(notice.firm) == 1
    assert erase_old_notices(notice.firm) == 0
    assert "Sandoval" not in everything_said(notice)
    assert notice.state == "withdrawn"


def test_a_hold_keeps_them(notice, member, time_machine):
    LegalHold.objects.create(treatment=notice.treatment, reason="a claim", by=member.user)
    time_machine.move_to(PIECE.planned_at + KEPT_WITHOUT_RECORD + timedelta(days=9), tick=False)
    assert erase_old_notices(notice.firm) == 0


def test_without_an_erasure_the_database_keeps_every_answer(refused):
    rows = Attempt.objects.for_firm(refused.firm)
    for change in ({"answer": ""}, {"kind": "accepted"}):
        with pytest.raises(DatabaseError), transaction.atomic():
            rows.update(**change)
    NoticeErasure.objects.create(notice=refused)
    for change in ({"answer": "another word"}, {"kind": "accepted"}):
        with pytest.raises(DatabaseError), transaction.atomic():
            rows.update(**change)
    assert rows.update(answer="") == 1


def test_what_is_erased_is_not_told_any_more(client, notice, time_machine):
    where = f"/told/{notice.token}/"
    time_machine.move_to(PIECE.planned_at + KEPT_WITHOUT_RECORD + timedelta(days=1), tick=False)
    erase_old_notices(notice.firm)
    answer = client.get(where)
    assert answer.status_code == 410
    assert "This notice is over" in answer.content.decode()
