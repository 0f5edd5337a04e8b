"""The outbox takes each notice once, keeps its bytes once, and never drops one in silence."""

from datetime import timedelta

import pytest
from django.core.exceptions import PermissionDenied, ValidationError

from records.models import KeptBytes, NotByMeans, Notice, Treatment
from records.outbox.queueing import queue
from records.outbox.results import result
from records.outbox.sending import send_next
from tests.factories import MembershipFactory
from tests.records.outbox.pieces import PIECE, piece


@pytest.fixture(autouse=True)
def _queued(before, waiting) -> None:
    pass


def notices(firm) -> list[Notice]:
    return list(Notice.objects.for_firm(firm))


def test_the_same_notice_is_taken_once(draft, member):
    assert queue(draft, [PIECE, PIECE], member.user) == 1
    assert queue(draft, [PIECE], member.user) == 0
    (notice,) = notices(draft.firm)
    assert notice.digest == PIECE.digest
    assert (notice.name, notice.means, notice.state) == ("P. Sandoval", "email", "ready")


def test_a_person_without_a_row_is_known_by_name_whatever_its_case(draft, member):
    first = piece(neighbour=None, name="P. Sandoval")
    queue(draft, [first], member.user)
    assert queue(draft, [piece(neighbour=None, name="P. Sandoval")], member.user) == 0


@pytest.mark.parametrize(
    "changes",
    [
        {"planned_at": PIECE.planned_at + timedelta(hours=5), "until": None},
        {"planned_at": PIECE.planned_at + timedelta(days=1), "until": None},
        {"means": "letter"},
        {"text": "We treat the walk, too."},
    ],
)
def test_another_hour_day_means_or_word_is_another_notice(draft, member, changes):
    queue(draft, [PIECE], member.user)
    assert queue(draft, [piece(**changes)], member.user) == 1


def test_bytes_that_many_get_are_kept_once(draft, member):
    many = [piece(name=f"P. Sandoval {number}", neighbour=None) for number in range(5)]
    assert queue(draft, many, member.user) == 5
    (kept,) = KeptBytes.objects.for_firm(draft.firm)
    assert bytes(kept.content) == PIECE.attachments[0].content
    assert all(each.files.get().kept_id == kept.pk for each in notices(draft.firm))


def test_who_said_not_by_e_mail_gets_none_and_the_office_is_told(mail_server, draft, member):
    NotByMeans.objects.create(firm=draft.firm, means="email", reached="sandoval@example.net", by=member.user)
    queue(draft, [piece(email="Sandoval@Example.net"), piece(means="letter")], member.user)
    assert send_next(draft.firm) is None
    by_mail = Notice.objects.for_firm(draft.firm).get(means="email")
    assert by_mail.state == "refused"
    assert by_mail.tasks.get().kind == "not_wanted"
    assert Notice.objects.for_firm(draft.firm).get(means="letter").state == "ready"


def test_a_notice_withdrawn_before_it_went_out_is_ready_again(draft, member):
    queue(draft, [PIECE], member.user)
    result(notices(draft.firm)[0], "withdrawn", by=member.user)
    queue(draft, [PIECE], member.user)
    assert notices(draft.firm)[0].state == "ready"


def test_a_notice_that_did_not_come_is_sent_again_by_who_chooses_the_same_anew(mail_server, draft, member):
    queue(draft, [PIECE], member.user)
    mail_server.failing = ("RCPT", "550 5.1.1 no such user")
    assert send_next(draft.firm).state == "refused"
    mail_server.failing = ("", "")
    assert queue(draft, [PIECE], member.user) == 1
    assert send_next(draft.firm).state == "sent"


def test_what_is_withdrawn_and_chosen_again_and_again_goes_out_in_the_end(mail_server, draft, member):
    for _ in range(2):
        queue(draft, [PIECE], member.user)
        result(notices(draft.firm)[0], "withdrawn", by=member.user)
    queue(draft, [PIECE], member.user)
    assert send_next(draft.firm).state == "sent"


def test_a_notice_withdrawn_after_it_went_out_is_not_sent_again(mail_server, draft, member):
    queue(draft, [PIECE], member.user)
    send_next(draft.firm)
    result(notices(draft.firm)[0], "withdrawn", by=member.user)
    queue(draft, [PIECE], member.user)
    assert send_next(draft.firm) is None
    assert len(mail_server.taken) == 1


def test_what_was_sent_stands_in_the_draft_with_a_name_for_the_customer_alone(
    mail_server, draft, member, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        queue(draft, [PIECE, piece(to="customer", name="A. Marlowe", neighbour=None)], member.user)
        while send_next(draft.firm):
            pass
    draft.refresh_from_db()
    entries = {each["to"]: each for each in draft.document["notices"]}
    assert entries["customer"]["name"] == "A. Marlowe"
    assert entries["customer"]["sent_at"] == "2026-09-10T09:00:00-07:00"
    neighbour = entries["neighbour"]
    assert "name" not in neighbour
    assert neighbour["digest"] == PIECE.digest
    assert neighbour["notice"] == str(Notice.objects.for_firm(draft.firm).get(to="neighbour").pk)
    assert "Sandoval" not in str(Treatment.objects.for_firm(draft.firm).get().document)


def test_another_firm_s_member_and_an_inspector_queue_nothing(draft, stranger, firm):
    for user in (stranger.user, MembershipFactory(firm=firm, role="inspector").user):
        with pytest.raises(PermissionDenied):
            queue(draft, [PIECE], user)
    assert notices(firm) == []


def test_a_notice_belongs_to_its_treatment_s_firm(draft, member, stranger):
    queue(draft, [PIECE], member.user)
    notice = notices(draft.firm)[0]
    notice.firm = stranger.firm
    with pytest.raises(ValidationError):
        notice.save()
