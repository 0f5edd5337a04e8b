"""A mail that came back is known by its notice's own Message-ID alone, and changes nothing else."""

import base64
import io
import re
import subprocess
import sys
from datetime import timedelta
from types import SimpleNamespace

import pytest
from django.core.management import call_command

from records.models import Attempt, Notice, NoticeTask
from records.outbox.by_mail import message_id
from records.outbox.results import result
from records.outbox.returned import MOST_BYTES, Returned, read_returned
from records.outbox.sending import send_next
from shared import clock
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


def test_a_mail_that_comes_back_a_second_time_in_the_same_words_counts_again(come_in, gone_out, time_machine):
    for returns in (1, 2):
        time_machine.shift(timedelta(hours=1))
        come_in(report(message_id(gone_out)))
        gone_out.refresh_from_db()
        assert (gone_out.state, tasks(gone_out.firm)) == ("refused", ["refused"])
        assert gone_out.attempts.filter(kind=Attempt.Kind.RETURNED).count() == returns
        time_machine.shift(timedelta(hours=1))
        result(gone_out, Attempt.Kind.AGAIN)
        send_next(gone_out.firm)


def test_what_went_out_again_has_the_times_of_the_sending_that_counts(come_in, gone_out, time_machine):
    come_in(report(message_id(gone_out), action="delivered"))
    time_machine.shift(timedelta(hours=1))
    come_in(report(message_id(gone_out)))
    time_machine.shift(timedelta(hours=1))
    result(gone_out, Attempt.Kind.AGAIN)
    send_next(gone_out.firm)
    gone_out.refresh_from_db()
    assert (gone_out.sent_at, gone_out.delivered_at) == (clock.now(), None)
    sent_at = clock.now()
    time_machine.shift(timedelta(hours=1))
    come_in(report(message_id(gone_out), action="delivered"))
    gone_out.refresh_from_db()
    assert (gone_out.sent_at, gone_out.delivered_at) == (sent_at, clock.now())


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
    "whose first five megabytes say nothing": lambda notice: report(message_id(notice)).replace(
        b"Your mail came back.", b"x" * MOST_BYTES
    ),
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


UPPER = b'REPORT-TYPE="Delivery-Status"'
LONG = {
    "of a notice with ten megabytes of attachments": lambda raw: raw.replace(
        b"\n--part--\n", b"\n" + b"QUJD" * 2_500_000 + b"\n\n--part--\n"
    ),
    "that speaks of boundaries": lambda raw: raw.replace(b"Your mail", b"boundary " * 50 + b"\nYour mail"),
    "as some servers lay it out": lambda raw: (
        raw.replace(b"\n", b"\r\n")
        .replace(b' report-type=delivery-status; boundary="part"', b"\r\n\tboundary=part;\r\n\t" + UPPER)
        .replace(b"Action:", b"ACTION:")
    ),
    "in base64": lambda raw: re.sub(
        rb"(Content-Type: message/delivery-status\n)\n(.*?)(\n--part)",
        lambda found: found[1]
        + b"Content-Transfer-Encoding: base64\n\n"
        + base64.encodebytes(found[2])
        + found[3],
        raw,
        flags=re.DOTALL,
    ),
}  # fmt: skip


@pytest.mark.parametrize("how", LONG)
@pytest.mark.parametrize("kind", ["text/rfc822-headers", "message/rfc822"])
def test_a_genuine_report_is_read_however_it_is_laid_out_and_however_long_the_mail_was(how, kind):
    key = "0123456789abcdef" * 2
    raw = LONG[how](report(f"<{key}@localhost>", kind=kind))
    assert read_returned(raw) == Returned(key, "failed", "5.1.1 smtp; 550 5.1.1 no such user")


def test_a_mail_of_no_notice_is_told_to_the_log_by_the_id_that_the_mail_server_knows(come_in, db, caplog):
    come_in(b"Message-ID: <seven@example.net>\n\n" + b"x" * (MOST_BYTES + 1))
    (told,) = caplog.messages
    assert "<seven@example.net>" in told
    assert "its last 34 bytes were not looked at" in told


SLOW = """
import resource
resource.setrlimit(resource.RLIMIT_CPU, (10, 10))
from records.outbox.returned import read_returned
HEAD = b'Content-Type: multipart/report; report-type=delivery-status; boundary="part"'
BEGUN = HEAD + b"\\n\\n--part\\n"
STATUS = BEGUN + b"Content-Type: message/delivery-status\\n\\n"
for begin, again in [
    (HEAD, b";a*0*=x"),
    (b"Content-Type: multipart/report", b"; boundary"),
    (b"Content-Type: multipart/report;", b" "),
    (HEAD, b"\\n "),
    (HEAD, b"\\nX: y"),
    (BEGUN, b"--part\\n"),
    (BEGUN, b"--part --part"),
    (BEGUN, b"Content-Type: message/rfc822\\n\\n"),
    (BEGUN, b"\\n"),
    (STATUS, b"Action: failed\\n\\n"),
    (STATUS, b"\\n\\n "),
    (STATUS, b"A: b\\n "),
    (BEGUN + b"Content-Type: text/rfc822-headers\\n\\nMessage-ID: ", b"<" + b"0" * 32 + b"@"),
]:
    assert read_returned(begin + again * (1_000_000 // len(again))) is None
"""


def test_a_megabyte_of_each_thing_that_is_slow_to_read_takes_no_ten_seconds_of_a_processor_in_all():
    done = subprocess.run([sys.executable, "-c", SLOW], check=False, capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")
