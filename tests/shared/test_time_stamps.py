"""Time-stamps of an authority are asked for, and looked at; its messages are those of RFC 3161."""

from datetime import UTC, datetime

import pytest

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
    for address in (authority.address, "http://127.0.0.1:9/", "file:///etc/hostname", "no address"):
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
