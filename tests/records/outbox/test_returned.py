"""A mail that came back is known by its notice's own Message-ID alone, and changes nothing else."""

import io
from types import SimpleNamespace

import pytest
from django.core.management import call_command

from records.models import Attempt, Notice, NoticeTask
from records.outbox.by_mail import message_id
from records.outbox.returned import MOST_BYTES, read_returned
from records.outbox.sending import send_next
from tests.records.outbox.test_sending import tasks

REPORT = """\
From: postmaster@example.net
To: treatment-log@localhost
Subject: Undelivered
MIME-Version: 1.0
Content-Type: multipart/report; report-type=delivery-status; boundary="part"

--part
Content-Type: text/plain

Your mail came back.

--part
Content-Type: message/delivery-status

Reporting-MTA: dns; mail.example.net

Final-Recipient: rfc822; sandoval@example.net
Action: {action}
Status: 5.1.1
Diagnostic-Code: smtp; 550 5.1.1 no such user

--part
Content-Type: {kind}

Message-ID: {message_id}
Subject: Roof treatment

--part--
"""
"""Laid out as the examples of RFC 3464, appendix E (from memory)."""


def report(message_id: str, action: str = "failed", kind: str = "text/rfc822-headers") -> bytes:
    return REPORT.format(message_id=message_id, action=action, kind=kind).encode()


@pytest.fixture
def gone_out(mail_server, notice) -> Notice:
    send_next(notice.firm)
    return notice


@pytest.fixture
def come_in(monkeypatch):
    def read(raw: bytes) -> str:
        words = io.StringIO()
        monkeypatch.setattr("sys.stdin", SimpleNamespace(buffer=io.BytesIO(raw)))
        call_command("read_bounce", stdout=words)
        return words.getvalue()

    return read


@pytest.mark.parametrize("kind", ["text/rfc822-headers", "message/rfc822"])
def test_a_returned_mail_marks_its_notice_with_the_words_of_the_other_server(come_in, gone_out, kind):
    for _ in range(2):
        come_in(report(message_id(gone_out), kind=kind))
    gone_out.refresh_from_db()
    assert gone_out.state == "refused"
    assert tasks(gone_out.firm) == ["refused"]
    (returned,) = gone_out.attempts.filter(kind=Attempt.Kind.RETURNED)
    assert returned.answer == "5.1.1 smtp; 550 5.1.1 no such user"


def test_a_mail_server_may_report_that_it_was_delivered_or_put_off(come_in, gone_out):
    come_in(report(message_id(gone_out), action="delayed"))
    gone_out.refresh_from_db()
    assert gone_out.state == "sent"
    come_in(report(message_id(gone_out), action="delivered"))
    gone_out.refresh_from_db()
    assert gone_out.state == "delivered"
    assert tasks(gone_out.firm) == []


HOSTILE = {
    "the id of the notice itself": lambda notice: report(f"<{notice.pk}@localhost>"),
    "the word of the recipient's page": lambda notice: report(f"<{notice.token}@localhost>"),
    "no report": lambda notice: b"Message-ID: " + message_id(notice).encode() + b"\n\nIt came back.",
    "a report of another kind": lambda notice: report(message_id(notice)).replace(
        b"report-type=delivery-status", b"report-type=disposition-notification"
    ),
    "two notices at once": lambda notice: report(message_id(notice)).replace(
        b"--part--",
        b"--part\nContent-Type: text/rfc822-headers\n\nMessage-ID: <" + b"0" * 32 + b"@x>\n\n--part--",
    ),
    "too large": lambda notice: report(message_id(notice)) + b"x" * MOST_BYTES,
    "nested a thousand times": lambda notice: b"".join(
        b'Content-Type: multipart/report; report-type=delivery-status; boundary="%d"\n\n--%d\n' % (at, at)
        for at in range(1000)
    ),
    "nothing": lambda _notice: b"",
    "no text": lambda _notice: bytes(range(256)) * 100,
    "no character set that there is": lambda notice: (
        report(message_id(notice))
        .replace(b"Content-Type: text/plain", b"Content-Type: text/plain; charset=none-at-all")
        .replace(b"Action", b"Acti\xff\xfen")
    ),
}


@pytest.mark.parametrize("what", HOSTILE)
def test_a_hostile_mail_changes_nothing(come_in, gone_out, what):
    assert "no notice" in come_in(HOSTILE[what](gone_out))
    gone_out.refresh_from_db()
    assert gone_out.state == "sent"
    assert not NoticeTask.objects.for_firm(gone_out.firm).exists()


def test_a_report_on_what_never_went_out_changes_nothing(come_in, notice):
    assert "no notice" in come_in(report(message_id(notice)))
    notice.refresh_from_db()
    assert notice.state == "ready"


def test_ten_megabytes_are_not_even_parsed():
    assert read_returned(report("<" + "0" * 32 + "@x>") + b"\n" * 10_000_000) is None
