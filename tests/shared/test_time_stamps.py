"""Time-stamps of an authority are asked for, and looked at; its messages are those of RFC 3161."""

import socket
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import UTC, datetime
from itertools import chain, repeat
from threading import Thread
from time import sleep

import pytest

from shared import time_stamps
from shared.time_stamps import TimeStampError, look_at, time_stamp
from tests.time_stamping import LocalAuthority, serving

DATA = b"the head of a log"
AT = datetime(2026, 9, 14, 16, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def authority():
    with serving(LocalAuthority()) as local:
        local.fixed = AT
        yield local


@pytest.fixture(scope="module")
def token(authority) -> bytes:
    return time_stamp(authority.address, DATA)


def test_it_says_when_and_who_says_so(authority, token):
    for trusted in ([authority.root], []):
        stamped = look_at(token, DATA, trusted)
        assert (stamped.at, stamped.authority) == (AT, "Common Name: Example Time")


def why(token: bytes, data: bytes = DATA, trusted=()) -> str:
    with pytest.raises(TimeStampError) as found:
        look_at(token, data, trusted)
    return found.value.why


def test_it_is_of_these_bytes_and_no_others(token):
    assert why(token, DATA + b"!") == "of-other"


def test_an_authority_that_is_not_trusted_is_a_stranger(token):
    assert why(token, trusted=[LocalAuthority("Another Time").root]) == "stranger"


def test_no_byte_of_it_can_be_changed_unseen(token, authority):
    for place in range(0, len(token), 97):
        changed = bytearray(token)
        changed[place] ^= 1
        try:
            stamped = look_at(bytes(changed), DATA, [authority.root])
        except TimeStampError:
            continue
        assert stamped.at == AT


@pytest.mark.parametrize("nothing", [b"", b"no token", b"\x30\x80"])
def test_what_is_no_token_is_refused(nothing):
    assert why(nothing) == "changed"


def test_an_authority_that_fails_or_is_not_there_is_said(authority):
    authority.answers = False
    for address in (authority.address, "http://127.0.0.1:9/", "ftp://127.0.0.1:9/", "no address"):
        with pytest.raises(TimeStampError) as found:
            time_stamp(address, DATA)
        assert found.value.why == "no-token"
    authority.answers = True


@pytest.mark.parametrize("answer", [b"", b"<html>", b"\x30\x03\x02\x01\x02"])
def test_an_answer_that_is_none_is_said(authority, monkeypatch, answer):
    monkeypatch.setattr(authority, "answer", lambda _request: answer)
    with pytest.raises(TimeStampError):
        time_stamp(authority.address, DATA)


def test_an_answer_about_something_else_is_refused(authority, monkeypatch):
    """As one that is played again: neither the nonce nor the bytes are those that were asked for."""
    from asn1crypto.tsp import TimeStampReq

    def of_other(request: bytes) -> bytes:
        asked = TimeStampReq.load(request)
        asked["message_imprint"]["hashed_message"] = bytes(32)
        return authority._stamper.request_tsa_response(asked).dump()

    monkeypatch.setattr(authority, "answer", of_other)
    with pytest.raises(TimeStampError, match="something else"):
        time_stamp(authority.address, DATA)


class Served:
    """Answers every request with the same bytes, in its own time, and notes which came."""

    def __init__(self, pieces: Iterable[bytes]) -> None:
        self.pieces, self.asked = pieces, 0

    def __enter__(self) -> str:
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.thread = Thread(target=self._serve)
        self.thread.start()
        return f"http://127.0.0.1:{self.listener.getsockname()[1]}/"

    def _serve(self) -> None:
        with suppress(OSError):
            while True:
                caller, _address = self.listener.accept()
                self.asked += 1
                with caller, suppress(OSError):
                    caller.recv(65536)
                    for piece in self.pieces:
                        caller.sendall(piece)

    def __exit__(self, *_: object) -> None:
        self.listener.shutdown(socket.SHUT_RDWR)
        self.listener.close()
        self.thread.join()


def drops(of: bytes) -> Iterator[bytes]:
    while True:
        sleep(0.02)
        yield of


@pytest.mark.parametrize("head", [b"", b"HTTP/1.0 200 OK\r\n\r\n"])
def test_an_authority_that_answers_drop_by_drop_is_not_waited_for(monkeypatch, head):
    monkeypatch.setattr(time_stamps, "SECONDS_TO_ANSWER", 0.2)
    with Served(chain([head], drops(b"0"))) as address, pytest.raises(TimeStampError) as found:
        time_stamp(address, DATA)
    assert isinstance(found.value.__cause__, TimeoutError)


def test_an_authority_that_sends_without_end_is_cut_off():
    pieces = chain([b"HTTP/1.0 200 OK\r\n\r\n"], repeat(b"0" * 65536))
    with Served(pieces) as address, pytest.raises(TimeStampError, match="too much"):
        time_stamp(address, DATA)


def test_an_authority_that_sends_one_elsewhere_is_not_followed(authority):
    elsewhere = Served([b"HTTP/1.0 200 OK\r\n\r\n"])
    with elsewhere as inside:
        away = Served([f"HTTP/1.0 302 Found\r\nLocation: {inside}\r\n\r\n".encode()])
        with away as address, pytest.raises(TimeStampError, match="302"):
            time_stamp(address, DATA)
    assert (away.asked, elsewhere.asked) == (1, 0)


def test_an_answer_that_nobody_signed_or_a_stranger_is_refused_before_anybody_has_it(authority, monkeypatch):
    from asn1crypto.tsp import TimeStampReq, TimeStampResp

    def unsigned(request: bytes) -> bytes:
        answer = authority._stamper.request_tsa_response(TimeStampReq.load(request))
        answer["time_stamp_token"]["content"]["signer_infos"] = []
        return TimeStampResp.load(answer.dump()).dump(force=True)

    with pytest.raises(TimeStampError) as found:
        time_stamp(authority.address, DATA, [LocalAuthority("Another Time").root])
    assert found.value.why == "stranger"
    monkeypatch.setattr(authority, "answer", unsigned)
    with pytest.raises(TimeStampError) as found:
        time_stamp(authority.address, DATA)
    assert found.value.why == "changed"
