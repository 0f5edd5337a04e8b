"""One button: a manager has everything of the firm made as a file, and takes it."""

import io
import logging
from datetime import timedelta
from zipfile import ZipFile

import pytest
from django.urls import reverse

from records.backup.contents import files_of_firms
from records.leaving import taking_out
from records.leaving.writing import Written
from records.models import AuditEntry, WayOut
from records.services.way_out import UnderWayError, begin, half_of, let_go_of_old, make
from records.tasks import look_after_way_out
from shared import clock
from shared.digests import digest
from tests.factories import MembershipFactory

PAGE, FILE = "/way-out/", "way_out_file"


@pytest.fixture
def manager(db):
    return MembershipFactory(role="manager")


@pytest.fixture
def later(monkeypatch):
    """So long after now."""
    now = clock.now()
    return lambda passed: monkeypatch.setattr(clock, "now", lambda: now + passed)


@pytest.fixture
def small(monkeypatch):
    """What lies in it is not asked here."""

    def write(_firm, out, _tell):
        out.write(b"everything")
        return Written(0, "", 0, 0)

    monkeypatch.setattr(taking_out, "write_firm", write)


def newest(manager) -> WayOut:
    return WayOut.objects.for_firm(manager.firm).first()


def taken(client, row: WayOut):
    return client.get(reverse(FILE, kwargs={"file": row.pk}))


def test_a_manager_has_it_made_and_takes_it(client, manager):
    client.force_login(manager.user)
    assert client.post(PAGE).status_code == 302
    row = newest(manager)
    assert row.digest in client.get(PAGE).content.decode()
    data = taken(client, row).getvalue()
    assert (digest(data), len(data)) == (row.digest, row.size)
    assert "rows/records.firm.jsonl" in ZipFile(io.BytesIO(data)).namelist()


def test_that_it_was_made_and_taken_is_noted(small, client, manager):
    client.force_login(manager.user)
    client.post(PAGE)
    assert taken(client, newest(manager)).getvalue()
    entries = AuditEntry.objects.for_firm(manager.firm).filter(kind="exported").order_by("pk")
    things = [(entry.thing, entry.by_id, entry.reason) for entry in entries]
    user = manager.user.pk
    assert things == [("records.firm", user, "way-out"), ("records.wayout", user, "")]


@pytest.mark.parametrize("role", ["crew", "office", "inspector"])
def test_nobody_else_of_the_firm_may(small, client, manager, role):
    row = begin(manager.firm, manager.user)
    client.force_login(MembershipFactory(firm=manager.firm, role=role).user)
    assert [client.get(PAGE).status_code, client.post(PAGE).status_code, taken(client, row).status_code] == [
        403
    ] * 3


def test_another_firms_file_is_not_there(small, client, manager):
    row = begin(manager.firm, manager.user)
    client.force_login(MembershipFactory(role="manager").user)
    assert taken(client, row).status_code == 404


def test_while_one_is_being_made_no_other_is_begun(client, manager, later):
    row = WayOut.objects.create(firm=manager.firm, by=manager.user)
    later(timedelta(minutes=9))
    with pytest.raises(UnderWayError):
        begin(manager.firm, manager.user)
    client.force_login(manager.user)
    assert client.post(PAGE).status_code == 302
    assert newest(manager) == row


def test_after_one_that_broke_off_another_is_made_and_nothing_of_it_stays(small, manager, later):
    broken = WayOut.objects.create(firm=manager.firm, by=manager.user)
    broken.path.parent.mkdir(parents=True)
    half_of(broken.path).write_text("half")
    later(timedelta(minutes=11))
    begin(manager.firm, manager.user)
    broken.refresh_from_db()
    assert (broken.state, newest(manager).state) == ("failed", "made")
    assert [path.name for path in broken.path.parent.iterdir()] == [newest(manager).path.name]


def test_of_one_whose_worker_died_nothing_stays_and_that_it_failed_is_said(client, manager, later):
    broken = WayOut.objects.create(firm=manager.firm, by=manager.user)
    broken.path.parent.mkdir(parents=True)
    half_of(broken.path).write_text("half of everything")
    look_after_way_out.func(str(broken.pk), str(manager.firm.pk))
    assert half_of(broken.path).exists(), "it is at work"
    later(timedelta(minutes=11))
    look_after_way_out.func(str(broken.pk), str(manager.firm.pk))
    assert list(broken.path.parent.iterdir()) == []
    client.force_login(manager.user)
    assert "It could not be made." in client.get(PAGE).content.decode()


def test_one_that_was_held_for_broken_off_leaves_no_file_when_it_ends_after_all(small, manager):
    row = WayOut.objects.create(firm=manager.firm, by=manager.user, state="failed")
    make(row)
    row.refresh_from_db()
    assert (row.state, row.path.exists()) == ("failed", False)


def test_a_new_one_takes_the_place_of_the_last(small, client, manager):
    first = begin(manager.firm, manager.user)
    begin(manager.firm, manager.user)
    client.force_login(manager.user)
    assert (taken(client, first).status_code, first.path.exists()) == (404, False)


def test_after_a_week_it_is_not_to_be_had_and_then_it_is_gone(small, client, manager, later):
    row = begin(manager.firm, manager.user)
    later(timedelta(days=7, minutes=1))
    client.force_login(manager.user)
    assert taken(client, row).status_code == 404
    assert "is not kept any more" in client.get(PAGE).content.decode()
    let_go_of_old(manager.firm)
    assert not row.path.exists()


def test_how_far_it_is_is_shown(client, manager):
    row = WayOut.objects.create(firm=manager.firm, by=manager.user)
    row.far_path.parent.mkdir(parents=True)
    row.far_path.write_text("500 2000")
    client.force_login(manager.user)
    assert "500 of 2000 rows are written." in client.get(PAGE).content.decode()


def test_a_full_disk_is_told_and_nothing_half_stays(client, manager, monkeypatch, caplog):
    def full(*_arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(taking_out, "write_firm", full)
    with caplog.at_level(logging.ERROR):
        row = begin(manager.firm, manager.user)
    row.refresh_from_db()
    assert (row.state, list(row.path.parent.iterdir())) == ("failed", [])
    client.force_login(manager.user)
    assert "It could not be made." in client.get(PAGE).content.decode()
    assert "No space left" in caplog.text


def test_no_backup_and_no_other_such_file_takes_it_along(small, manager):
    row = begin(manager.firm, manager.user)
    assert row.path.exists()
    assert list(files_of_firms()) == []
