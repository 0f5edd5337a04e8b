"""The page that the code on a record sheet leads to: what it proves, and what it never shows."""

import json
from datetime import datetime
from types import SimpleNamespace
from zoneinfo import ZoneInfo

import pytest
import time_machine
from django.core.cache import caches
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.urls import reverse

from records.models import LogEntry, ProofAddress, SignedRecord
from records.pages import proof
from records.record_files import record_file
from records.selectors import signed_versions
from records.services.corrections import start_correction
from records.services.follow_ups import sign_follow_up
from records.services.signing import void
from records.services.to_sign import Signer
from shared.canonical import canonical_bytes
from shared.merkle import includes, leaf_hash
from tests.records.logged import AT, by_sql, sign_now


@pytest.fixture
def record(done, member) -> SignedRecord:
    return sign_now(done, member)


def where(record: SignedRecord, name: str = "proof") -> str:
    return reverse(name, kwargs={"token": record.proof_address.pk})


def shown(client, record: SignedRecord, language: str = "en") -> str:
    answer = client.get(where(record), headers={"Accept-Language": language})
    assert answer.status_code == 200
    return answer.content.decode()


def test_it_shows_number_version_digest_and_place_in_the_log(client, record, done, firm):
    page = shown(client, record)
    (entry,) = LogEntry.objects.for_firm(firm)
    for said in (done.number, "version 1", record.digest, "0, counted from 0, of 1", record.key.digest):
        assert said in page
    assert f"{entry.received_at:%H:%M} UTC" in page
    assert f"{entry.received_at.astimezone(ZoneInfo(firm.time_zone)):%H:%M} {firm.time_zone}" in page
    assert "No later version was signed: this one holds." in page


def test_it_shows_nothing_that_the_record_says(client, record, done, firm, member):
    texts = [shown(client, record), client.get(where(record, "proof_file")).content.decode()]
    told = json.dumps(record.sections)
    assert "A. Marlowe" in told and "Heron Row" in told
    for text in texts:
        for hidden in ("A. Marlowe", "Heron Row", "R. Osei", "Sample Moss Wash", firm.name, str(done.pk)):
            assert hidden not in text, hidden


def test_a_correction_after_the_sheet_was_printed_shows_on_its_page(client, record, done, member):
    start_correction(done, member.user, "wind was read at noon")
    newer = sign_now(done, member)
    page = shown(client, record)
    assert "A later version replaces this one." in page
    assert newer.digest in page
    assert "wind was read at noon" not in page
    assert "No later version was signed" in shown(client, newer)


def test_that_it_was_made_void_shows_on_every_version(client, record, done, colleague):
    done.refresh_from_db()
    last = void(done, "the neighbour's roof", Signer(colleague.user))
    for version in (record, last):
        page = shown(client, version)
        assert "This record was made void." in page
        assert "neighbour" not in page


def test_a_follow_up_shows_without_what_it_says(client, record, done, member):
    done.refresh_from_db()
    follow_up = sign_follow_up(done, Signer(member.user), kind="note", at=AT, detail="a rash on the arm")
    page = shown(client, record)
    assert follow_up.digest in page
    assert "entry 1" in page
    assert "rash" not in page


def test_its_file_proves_the_records_bytes_to_whoever_has_them(client, record, done, member):
    done.refresh_from_db()
    sign_follow_up(done, Signer(member.user), kind="note", at=AT, detail="filed")
    file = client.get(where(record, "proof_file")).json()
    bytes_at_hand = canonical_bytes(record_file(record)["record"])
    root = bytes.fromhex(file["head"]["root"].removeprefix("sha256:"))
    proof = [bytes.fromhex(part) for part in file["proof"]]
    assert file["leaf"] == leaf_hash(bytes_at_hand).hex()
    assert includes(leaf_hash(bytes_at_hand), file["index"], file["head"]["size"], proof, root)
    changed = bytes_at_hand.replace(b"2026", b"2027", 1)
    assert not includes(leaf_hash(changed), file["index"], file["head"]["size"], proof, root)


def test_an_unknown_address_is_refused_in_plain_words_and_without_a_cookie(client, record):
    known = record.proof_address.pk
    other = ("0" if known[0] != "0" else "1") + known[1:]
    for token in (other, known.upper() + "0", "x", "\u0000", known[:-1]):
        for tail in ("", "proof.json"):
            answer = client.get(f"/proof/{token}/{tail}")
            assert answer.status_code == 404
            assert "There is no such proof" in answer.content.decode()
            assert not answer.cookies


def test_it_sets_no_cookie_is_not_indexed_and_sends_no_referrer(client, record, colleague):
    for signed_in in (False, True):
        if signed_in:
            client.force_login(colleague.user)
        for name in ("proof", "proof_file"):
            answer = client.get(where(record, name))
            assert not answer.cookies
            assert "noindex" in answer.headers["X-Robots-Tag"]
            assert answer.headers["Referrer-Policy"] == "no-referrer"
            assert answer.headers["Cache-Control"] == "private, no-store"


def test_it_speaks_the_browsers_language_and_that_of_its_link(client, record):
    assert "Prueba del registro" in shown(client, record, "es-MX,es;q=0.9")
    answer = client.get(where(record) + "?language=es", headers={"Accept-Language": "en"})
    assert "Prueba del registro" in answer.content.decode()
    assert answer.headers["Content-Language"] == "es"
    assert "Proof of record" in client.get(where(record) + "?language=xx").content.decode()


def test_one_computer_may_ask_so_often_in_a_minute_and_others_still_may(client, record, settings, monkeypatch):
    settings.TRUSTED_PROXIES = 1

    def status(sender: str) -> int:
        headers = {"X-Forwarded-For": f"10.0.0.1, {sender}"}
        return client.get(where(record), headers=headers).status_code

    monkeypatch.setattr(proof, "MOST_IN_A_MINUTE", 3)
    assert {status("192.0.2.7") for _ in range(3)} == {200}
    assert status("192.0.2.7") == 429
    assert status("192.0.2.8") == 200
    assert status("no address") == 200
    assert {status(f"2001:db8::{n}") for n in range(3)} == {200}
    assert status("2001:db8::ffff") == 429


def test_many_strangers_on_it_leave_the_counts_of_wrong_passwords_alone(db, client, settings):
    caches["default"].set("wrong-passwords", 9)
    settings.TRUSTED_PROXIES = 1
    nothing = reverse("proof", kwargs={"token": "0" * 32})
    for n in range(400):
        client.get(nothing, headers={"X-Forwarded-For": f"2001:db8:{n:x}::"})
    assert caches["default"].get("wrong-passwords") == 9


def test_it_stays_when_what_it_said_of_people_was_erased(client, record, done):
    by_sql("UPDATE records_signedrecord SET section_lines = %s", b"")
    assert record.digest in shown(client, record)


def test_each_version_has_an_address_that_says_nothing_of_another(record, done, member):
    start_correction(done, member.user, "wind was read at noon")
    newer = sign_now(done, member)
    one, other = record.proof_address.pk, newer.proof_address.pk
    assert len({one, other, one[:16], other[:16]}) == 4
    assert [len(bytes.fromhex(each)) for each in (one, other)] == [16, 16]
    assert record_file(record)["entry"]["proof"] == one


@pytest.mark.parametrize(
    "statement", ["DELETE FROM records_proofaddress", "UPDATE records_proofaddress SET token = 'x'"]
)
def test_an_address_is_never_changed_or_removed(record, statement):
    with pytest.raises(DatabaseError, match="never changed or removed"), connection.cursor() as cursor:
        cursor.execute(statement)


def test_a_record_that_was_signed_before_is_given_one(record, done):
    by_sql("DELETE FROM records_proofaddress")
    module = MigrationExecutor(connection).loader.get_migration(
        "records", "0014_proof_addresses_of_earlier_records"
    )
    state = MigrationExecutor(connection).loader.project_state(("records", module.name)).apps
    module.operations[0].code(state, SimpleNamespace(connection=connection))
    assert [row.record_id for row in ProofAddress.across_firms.all()] == [
        version.pk for version in signed_versions(done)
    ]


def test_a_later_version_is_told_with_the_time_of_its_signature_and_its_offset(client, record, done, colleague):
    done.refresh_from_db()
    signed = Signer(colleague.user, claimed_at=datetime.fromisoformat("2026-09-14T20:05:00-07:00"))
    with time_machine.travel("2026-09-15T09:00:00-07:00", tick=False):
        void(done, "the neighbour's roof", signed)
    page = shown(client, record)
    assert "signed Sept. 14, 2026, 20:05 UTC-7" in page
    assert "Came in Sept. 15, 2026, 09:00 UTC-7" in page
