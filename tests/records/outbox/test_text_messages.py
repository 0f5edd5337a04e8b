"""A text message is one signed POST to the firm's own sender, and to no machine of the house."""

import hashlib
import hmac
import json
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from http.server import BaseHTTPRequestHandler, HTTPServer
from urllib.parse import urlsplit

import pytest
from django.core.exceptions import ValidationError

from records.models import Notice
from records.outbox.by_text_message import shared_secret
from records.outbox.guarded_post import NotAskedError, guarded_post
from records.outbox.queueing import queue
from records.outbox.sending import send_next
from tests.records.outbox.pieces import piece


class Sender(HTTPServer):
    """Keeps what it was asked, and answers with `status`; with None it breaks off."""

    def __init__(self) -> None:
        self.status: int | None = 202
        self.asked: list[tuple[dict[str, str], bytes]] = []
        super().__init__(("127.0.0.1", 0), Answering)


class Answering(BaseHTTPRequestHandler):
    server: Sender

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"]))
        self.server.asked.append((dict(self.headers), body))
        if self.server.status is not None:
            self.send_response(self.server.status)
            self.send_header("Location", "http://127.0.0.1:1/elsewhere")
            self.end_headers()
            self.wfile.write(b"x" * 100_000)

    def log_message(self, *_args: object) -> None:
        """Says nothing."""


@contextmanager
def serving() -> Iterator[Sender]:
    with Sender() as server:
        threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True).start()
        yield server
        server.shutdown()


@pytest.fixture
def sender(settings, firm) -> Iterator[Sender]:
    settings.TEXT_MESSAGES_ANYWHERE = True
    with serving() as server:
        firm.text_message_address = f"http://127.0.0.1:{server.server_port}/texts?from=us"
        firm.save()
        yield server


@pytest.fixture
def text(before, waiting, draft, member) -> Notice:
    queue(draft, [piece(means="text-message")], member.user)
    return Notice.objects.for_firm(draft.firm).get()


def state(notice: Notice) -> str:
    send_next(notice.firm)
    notice.refresh_from_db()
    return notice.state


def test_it_goes_out_once_with_a_signature_that_the_sender_can_check(sender, firm, text):
    assert state(text) == "sent"
    assert state(text) == "sent"
    ((headers, body),) = sender.asked
    said = json.loads(body)
    assert (said["id"], said["to"]) == (str(text.pk), "+1 360 555 0142")
    assert f"/told/{text.token}/" in said["text"]
    signed = headers["Notice-Timestamp"].encode() + b"." + body
    right = hmac.new(shared_secret(firm).encode(), signed, hashlib.sha256).hexdigest()
    assert headers["Notice-Signature"] == f"sha256={right}"


@pytest.mark.parametrize(
    ("status", "expected"),
    [(503, "ready"), (429, "ready"), (400, "refused"), (302, "refused"), (None, "unsure")],
)
def test_what_it_answers_settles_what_became_of_it(sender, text, status, expected):
    sender.status = status
    assert state(text) == expected
    assert len(sender.asked) == 1


def test_each_firm_and_each_address_has_a_secret_of_its_own(firm, stranger):
    secrets = {shared_secret(firm), shared_secret(stranger.firm)}
    firm.text_message_address = "https://another.example.net/"
    assert len(secrets | {shared_secret(firm)}) == 3


def test_without_an_address_the_office_is_told(text):
    assert state(text) == "refused"
    assert text.tasks.get().kind == "refused"


@pytest.mark.parametrize(
    "address",
    [
        "https://127.0.0.1/",
        "https://localhost/",
        "https://10.0.0.7/",
        "https://192.168.1.1/",
        "https://169.254.169.254/latest",
        "https://[::1]/",
        "https://[::ffff:127.0.0.1]/",
        "https://[fd00::1]/",
        "https://0.0.0.0/",
        "https://100.64.0.1/",
        "https://224.0.0.1/",
        "https://192.0.0.9/",
        "https://192.88.99.1/",
        "https://[2002:7f00:1::1]/",
        "https://[2001:0:4136:e378:8000:63bf:f5f5:fff8]/",
        "https://[fec0::1]/",
        "https://[64:ff9b::10.0.0.7]/",
        "https://[::10.0.0.7]/",
        "https://[3001::1%eth0]/ñ",
        "http://203.0.114.9/",
        "file:notes.txt",
        "ftp://203.0.114.9/",
        "https:///nowhere",
        "https://127.0.0.1:99999/",
    ],
)
def test_no_machine_of_the_house_is_ever_asked(monkeypatch, address):
    def connected(*_args, **_kwargs):
        raise AssertionError("it was asked")

    monkeypatch.setattr(socket, "create_connection", connected)
    with pytest.raises(NotAskedError) as refused:
        guarded_post(urlsplit(address), b"", {}, seconds=1)
    assert refused.value.for_good


@contextmanager
def answering(*pieces: bytes, pause: float = 0.0) -> Iterator[str]:
    """A server that answers one request with these pieces, and the address at which it does."""
    stopped = threading.Event()

    def answer(server: socket.socket) -> None:
        line, _ = server.accept()
        with line, suppress(OSError):
            line.recv(65_536)
            for piece in pieces:
                line.sendall(piece)
                stopped.wait(pause)

    with socket.create_server(("127.0.0.1", 0)) as server:
        thread = threading.Thread(target=answer, args=(server,))
        thread.start()
        yield f"http://127.0.0.1:{server.getsockname()[1]}/"
        stopped.set()
        thread.join()


TAKEN = b"HTTP/1.1 202 Accepted\r\n\r\n"


@pytest.mark.parametrize(
    ("pieces", "pause"),
    [
        ([TAKEN[at : at + 1] for at in range(len(TAKEN))], 0.05),
        ([b"HTTP/1.1 100 Continue\r\n\r\n"] * 30 + [TAKEN], 0.05),
    ],
    ids=["byte by byte", "never the last word"],
)
def test_a_sender_that_drips_is_left_when_the_time_is_over(pieces, pause):
    with answering(*pieces, pause=pause) as address, pytest.raises(TimeoutError):
        guarded_post(urlsplit(address), b"", {}, seconds=0.3, anywhere=True)


@pytest.mark.parametrize("answer", [b"HTTP/1.1 202\r\nX: " + b"x" * 100_000, b"so be it\r\n\r\n", b""])
def test_an_answer_without_an_end_or_a_status_is_none(answer):
    with answering(answer) as address, pytest.raises(OSError, match="in no way that can be read"):
        guarded_post(urlsplit(address), b"", {}, seconds=5, anywhere=True)


def test_an_interim_answer_is_not_the_answer():
    with answering(b"HTTP/1.1 103 Early Hints\r\nLink: </>\r\n\r\n" + TAKEN) as address:
        assert guarded_post(urlsplit(address), b"", {}, seconds=5, anywhere=True) == 202


@pytest.mark.parametrize("address", ["https://texts.example.net/señal", "http://texts.example.net/"])
def test_an_address_to_which_nothing_can_be_posted_is_not_taken_as_the_firms(firm, address):
    firm.text_message_address = address
    with pytest.raises(ValidationError) as refused:
        firm.full_clean()
    assert list(refused.value.message_dict) == ["text_message_address"]


def test_an_address_that_no_request_can_hold_is_told_to_the_office(firm, text):
    firm.text_message_address = "https://texts.example.net/señal"
    firm.save()
    assert state(text) == "refused"
    assert text.tasks.get().kind == "refused"


def test_a_name_that_leads_home_is_refused_and_the_address_looked_at_is_the_one_asked(monkeypatch):
    asked = []

    def found(host, port, **_kwargs):
        numbers = {"inside.example.net": "10.1.2.3", "outside.example.net": "203.0.114.9"}
        return [(socket.AF_INET, socket.SOCK_STREAM, 6, "", (numbers[host], port))]

    def connected(place, **_kwargs):
        asked.append(place)
        raise ConnectionRefusedError("closed")

    monkeypatch.setattr(socket, "getaddrinfo", found)
    monkeypatch.setattr(socket, "create_connection", connected)
    for host in ("inside.example.net", "outside.example.net"):
        with pytest.raises(NotAskedError):
            guarded_post(urlsplit(f"https://{host}/"), b"", {}, seconds=1)
    assert asked == [("203.0.114.9", 443)]
