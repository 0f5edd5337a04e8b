"""The last head of each day is time-stamped by an authority outside; what it says is kept and checked."""

import json
import subprocess
from datetime import UTC, datetime, timedelta
from hashlib import sha256

import pytest
import time_machine
from cryptography.hazmat.primitives.serialization import Encoding
from django.urls import reverse
from django_tasks import task_backends
from django_tasks_db.backend import DatabaseBackend
from django_tasks_db.models import DBTaskResult

from records.models import AuditEntry, HeadTimeStamp, TreeHead
from records.services.follow_ups import sign_follow_up
from records.services.time_stamps import time_stamp_last_head
from records.services.to_sign import Signer
from shared import clock
from tests.debian import program
from tests.records.logged import by_sql, sign_now
from tests.records.test_bundle import add_up, failing, run, unpacked
from tests.records.test_verify_log_command import run as verify_log
from tests.time_stamping import LocalAuthority, serving

NOON = datetime(2026, 11, 30, 12, 0, tzinfo=UTC)
MIDNIGHT = datetime(2026, 12, 1, 0, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def made_authority():
    with serving(LocalAuthority()) as local:
        yield local


@pytest.fixture
def authority(made_authority, settings, tmp_path):
    """It answers, and its root is the one that counts."""
    made_authority.answers, made_authority.fixed = True, None
    settings.TIME_STAMP_AUTHORITY = made_authority.address
    settings.TIME_STAMP_ROOTS = str(tmp_path / "roots.pem")
    (tmp_path / "roots.pem").write_bytes(made_authority.root.public_bytes(Encoding.PEM))
    return made_authority


@pytest.fixture
def queue(db):
    """What is queued waits in the database, as in real use; `queue()` gives it, what is due first."""
    task_backends["default"] = DatabaseBackend("default", {})
    yield lambda: DBTaskResult.objects.filter(status="READY").order_by("run_after")
    del task_backends["default"]


@pytest.fixture
def two_heads(authority, queue, done, member):
    """A record and a follow-up, signed on the same day."""
    with time_machine.travel(NOON, tick=False) as now:
        sign_now(done, member)
        now.shift(timedelta(hours=2))
        sign_follow_up(done, Signer(member.user), kind="copy-given", at=clock.now())
    return TreeHead.objects.for_firm(done.firm)


@pytest.fixture
def stamped(two_heads, firm) -> HeadTimeStamp:
    with time_machine.travel(MIDNIGHT, tick=False):
        return time_stamp_last_head(firm)


def work() -> None:
    """What is due by now, as the worker does it (which would close the test's own connection)."""
    for due in list(DBTaskResult.objects.ready()):
        due.delete()
        due.task.call(*due.args_kwargs["args"])


def test_a_day_s_time_stamp_is_queued_once_for_when_the_day_is_over(two_heads, queue):
    (waiting,) = queue()
    assert waiting.run_after == MIDNIGHT


def test_without_an_authority_nothing_is_queued(done, member, queue):
    sign_now(done, member)
    assert not queue()


def test_the_worker_has_the_last_head_of_the_day_time_stamped(two_heads, firm, queue, authority):
    with time_machine.travel(MIDNIGHT + timedelta(seconds=2), tick=False):
        authority.fixed = MIDNIGHT + timedelta(seconds=1)
        work()
    (stamp,) = HeadTimeStamp.objects.for_firm(firm)
    assert (stamp.head.size, stamp.at, stamp.authority) == (2, authority.fixed, "Common Name: Example Time")
    assert not queue()
    noted = AuditEntry.objects.for_firm(firm).filter(thing="records.headtimestamp")
    assert [(entry.kind, entry.by) for entry in noted] == [("created", None)]


def test_while_the_authority_is_silent_it_is_asked_later_and_later_and_then_no_more(
    two_heads, firm, queue, authority
):
    authority.answers, waits = False, []
    with time_machine.travel(MIDNIGHT, tick=False) as now:
        for _ in range(12):
            work()
            (waiting,) = queue()
            waits.append(waiting.run_after - clock.now())
            now.move_to(waiting.run_after)
        authority.answers = True
        work()
    minutes = [wait // timedelta(minutes=1) for wait in waits]
    assert minutes == [1, 2, 4, 8, 16, 32, 64, 128, 256, 360, 360, 360]
    assert HeadTimeStamp.objects.for_firm(firm).get().head.size == 2
    assert not queue()


def test_each_day_has_a_time_stamp_once_and_a_day_on_which_nothing_was_signed_none(
    stamped, firm, done, member, queue, authority
):
    asked = authority.asked
    with time_machine.travel(MIDNIGHT, tick=False) as now:
        work()
        assert authority.asked == asked
        now.shift(timedelta(days=1, hours=9))
        sign_follow_up(done, Signer(member.user), kind="note", at=clock.now(), detail="rinsed again")
        now.shift(timedelta(days=1))
        work()
    assert [stamp.head.size for stamp in HeadTimeStamp.objects.for_firm(firm)] == [3, 2]
    assert authority.asked == asked + 1


def test_after_days_without_a_worker_the_newest_of_the_days_that_are_over_is_time_stamped_alone(
    two_heads, firm, done, member, queue, authority
):
    asked = authority.asked
    with time_machine.travel(NOON + timedelta(days=1), tick=False) as now:
        sign_follow_up(done, Signer(member.user), kind="note", at=clock.now(), detail="rinsed again")
        now.shift(timedelta(days=2))
        sign_follow_up(done, Signer(member.user), kind="note", at=clock.now(), detail="and looked at")
        work()
    assert [stamp.head.size for stamp in HeadTimeStamp.objects.for_firm(firm)] == [3]
    assert authority.asked == asked + 1


def test_an_authority_that_does_not_count_is_not_kept(two_heads, firm, settings, tmp_path, queue):
    (tmp_path / "roots.pem").write_bytes(LocalAuthority("Another").root.public_bytes(Encoding.PEM))
    with time_machine.travel(MIDNIGHT, tick=False):
        work()
    assert not HeadTimeStamp.objects.for_firm(firm)
    assert queue().count() == 1


def test_the_look_at_the_log_says_it(stamped, firm, capsys, settings):
    code, said, _ = verify_log(capsys)
    line = (
        f"{firm.name}: 1 heads time-stamped, the last of size 2: {stamped.at.isoformat()}, {stamped.authority}"
    )
    assert (code, said.splitlines()[1:]) == (0, [line, "The log holds."])
    settings.TIME_STAMP_ROOTS = ""
    code, said, _ = verify_log(capsys)
    assert code == 0
    assert "Whether to trust that authority was not looked at" in said


def test_a_time_stamp_of_a_stranger_does_not_count_and_is_no_fault_of_the_log(stamped, firm, capsys, tmp_path):
    (tmp_path / "roots.pem").write_bytes(LocalAuthority("Another").root.public_bytes(Encoding.PEM))
    code, said, _ = verify_log(capsys)
    line = f"{firm.name}: 1 time-stamps by authorities that are not among TIME_STAMP_ROOTS do not count"
    assert (code, said.splitlines()[1:]) == (0, [line, "The log holds."])


def test_a_time_stamp_that_was_changed_or_is_of_another_head_is_named(stamped, firm, capsys):
    head = TreeHead.objects.for_firm(firm).get(size=1).pk
    by_sql("UPDATE records_headtimestamp SET head_id = %s", head)
    assert "the time-stamp of the head of size 1 is of another head" in verify_log(capsys)[1]
    by_sql("UPDATE records_headtimestamp SET head_id = %s, at = %s", stamped.head_id, NOON)
    assert "the time-stamp of the head of size 2 is damaged" in verify_log(capsys)[1]
    by_sql("UPDATE records_headtimestamp SET token = %s", bytes(stamped.token)[:-9])
    code, said, _ = verify_log(capsys, "--language", "es")
    assert code == 1
    assert "el sello de tiempo de la cabecera de tamaño 2 está dañado" in said


def test_the_look_names_a_stamp_that_is_older_than_its_head_and_tells_a_late_one(
    two_heads, firm, authority, capsys
):
    with time_machine.travel(MIDNIGHT, tick=False):
        authority.fixed = two_heads.get(size=2).made_at - timedelta(minutes=6)
        time_stamp_last_head(firm)
        code, said, _ = verify_log(capsys)
    assert code == 1
    assert "the time-stamp of the head of size 2 is older than that head says it is" in said
    by_sql("DELETE FROM records_headtimestamp")
    with time_machine.travel(MIDNIGHT + timedelta(days=40), tick=False):
        authority.fixed = MIDNIGHT + timedelta(days=40)
        time_stamp_last_head(firm)
        code, said, _ = verify_log(capsys)
    assert code == 0
    assert "the head of size 2 was time-stamped 40 days after it was signed" in said


def test_the_look_tells_days_that_are_over_and_have_no_time_stamp(two_heads, firm, authority, capsys, settings):
    line = f"{firm.name}: no head of its own day is time-stamped: 2026-11-30"
    with time_machine.travel(MIDNIGHT - timedelta(seconds=1), tick=False):
        assert line not in verify_log(capsys)[1]
    with time_machine.travel(MIDNIGHT, tick=False):
        code, said, _ = verify_log(capsys)
        assert (code, line in said.splitlines()) == (0, True)
        settings.TIME_STAMP_AUTHORITY = ""
        assert line not in verify_log(capsys)[1]


def test_managers_see_the_last_one_beside_the_newest_head(stamped, client, colleague):
    client.force_login(colleague.user)
    page = client.get(reverse("log")).content.decode()
    assert "of 2 entries, Common Name: Example Time" in page


def openssl(folder, authority) -> str:
    """As README.txt says."""
    root = folder / "authority.pem"
    root.write_bytes(authority.root.public_bytes(Encoding.PEM))
    command = "ts -verify -token_in -in time-stamps/2.tst -data time-stamps/2.json -CAfile authority.pem"
    ran = subprocess.run(
        [program("openssl", package="openssl"), *command.split()], cwd=folder, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    root.unlink()
    return ran.stdout + ran.stderr


def test_a_bundle_holds_it_and_others_check_it(stamped, firm, done, authority, tmp_path):
    folder = unpacked(firm, done, tmp_path / "bundle")
    code, said = run(folder)
    assert code == 0, said
    at = stamped.at.isoformat()
    line = f"holds     time-stamps/2.tst: of the head of 2 entries, stamped at {at} as it says itself"
    assert line in said
    assert "note      time-stamps" not in said
    assert json.loads((folder / "time-stamps/2.json").read_text()) == stamped.head.head
    assert "Verification: OK" in openssl(folder, authority)
    assert f"Time stamp: {stamped.at:%b %e %H:%M:%S %Y}" in openssl_time(folder)


def openssl_time(folder) -> str:
    """As README.txt says."""
    command = "ts -reply -token_in -in time-stamps/2.tst -token_out -text"
    assert command.replace("time-stamps/2", "7") in (folder / "README.txt").read_text()
    ran = [program("openssl", package="openssl"), *command.split()]
    return subprocess.run(ran, cwd=folder, capture_output=True, text=True, check=False).stdout


def test_in_a_bundle_a_token_that_only_has_the_digest_in_it_fails(stamped, firm, done, tmp_path):
    folder = unpacked(firm, done, tmp_path / "bundle")
    head = (folder / "time-stamps/2.json").read_bytes()
    (folder / "time-stamps/2.tst").write_bytes(b"junk" + sha256(head).digest())
    add_up(folder)
    assert failing(folder) == ["time-stamps/2.tst: of the head of 2 entries: this is no time-stamp"]


def test_in_a_bundle_a_stamp_that_is_older_than_its_head_fails_and_a_late_one_is_told(
    two_heads, firm, done, authority, tmp_path
):
    signed = two_heads.get(size=2).made_at
    with time_machine.travel(MIDNIGHT, tick=False):
        authority.fixed = signed - timedelta(minutes=6)
        time_stamp_last_head(firm)
    (early,) = failing(unpacked(firm, done, tmp_path / "early"))
    assert "of the head of 2 entries: it was stamped at 2026-11-30 13:54:00+00:00" in early
    by_sql("DELETE FROM records_headtimestamp")
    with time_machine.travel(MIDNIGHT + timedelta(days=40), tick=False):
        authority.fixed = MIDNIGHT + timedelta(days=40)
        time_stamp_last_head(firm)
    code, said = run(unpacked(firm, done, tmp_path / "late"))
    assert code == 0, said
    assert "note      time-stamps/2.tst: of the head of 2 entries: stamped 40 days after it was signed" in said


def test_in_a_bundle_a_time_stamp_of_something_else_is_named(stamped, firm, done, authority, tmp_path):
    folder = unpacked(firm, done, tmp_path / "bundle")
    (folder / "time-stamps/2.json").write_bytes((folder / "time-stamps/2.json").read_bytes() + b"\n")
    add_up(folder)
    assert failing(folder)[0].startswith("time-stamps/2.tst: of the head of 2 entries")
    assert "Verification: FAILED" in openssl(folder, authority)
