"""The log is looked at once a day, what it came to is kept, and a manager is told what does not hold."""

from datetime import timedelta

import pytest
import time_machine
from django.core.management import call_command
from django.db import DatabaseError, connection
from django.urls import reverse
from django.utils.module_loading import import_string
from django_tasks_db.models import DBTaskResult

from records.daily_look import look_at_log_of, look_at_logs, queue_look_at
from records.log_check import look_at_log
from records.models import LogLook, TreeHead
from records.services.log_looks import look_and_keep
from shared import clock
from tests.records.auditing.entries import newest
from tests.records.logged import by_sql, key_of


@pytest.fixture
def manager(client, colleague):
    client.force_login(colleague.user)
    return client


@pytest.fixture
def queue(settings, db):
    """Tasks wait for the worker, as in real use."""
    settings.TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}

    def waiting() -> list[tuple[str, object]]:
        tasks = DBTaskResult.objects.filter(status="READY").order_by("enqueued_at")
        return [(task.task_path.rpartition(".")[2], task.run_after) for task in tasks]

    return waiting


def work_off() -> None:
    """Do what is due, as the worker does; the worker itself would close the test's connection."""
    while due := DBTaskResult.objects.ready().order_by("enqueued_at").first():
        DBTaskResult.objects.filter(pk=due.pk).update(status="SUCCESSFUL")
        given = due.args_kwargs
        import_string(due.task_path).call(*given["args"], **given["kwargs"])


def change_a_record(logged) -> None:
    changed = bytes(logged[0].record).replace(b"R. Osei", b"R. Osel", 1)
    by_sql("UPDATE records_signedrecord SET record = %s WHERE uuid = %s", changed, key_of(logged[0]))


def test_a_look_is_kept_with_when_how_many_entries_and_what_it_came_to(logged, firm):
    look_and_keep(firm)
    (look,) = LogLook.objects.for_firm(firm)
    assert (look.entries, look.faults, look.broken, look.by) == (7, 0, [], None)
    assert look.root == TreeHead.objects.for_firm(firm).first().head["root"]


def test_the_worker_looks_at_each_firm_and_again_the_next_day(queue, logged, firm, stranger):
    call_command("queue_looks")
    assert [name for name, _ in queue()] == ["look_at_logs"]
    with time_machine.travel("2026-11-30T06:00:00Z", tick=False):
        work_off()
        tomorrow = clock.now() + timedelta(days=1)
    assert [(look.firm_id, look.entries) for look in LogLook.across_firms.order_by("entries")] == [
        (stranger.firm.pk, 0),
        (firm.pk, 7),
    ]
    assert queue() == [("look_at_logs", tomorrow)]


def test_however_often_it_is_begun_it_is_due_once(queue, firm):
    for _ in range(3):
        call_command("queue_looks")
    look_at_logs.call()
    look_at_logs.call()
    assert [name for name, _ in queue()].count("look_at_logs") == 1


def test_a_look_that_breaks_off_is_told_and_the_next_one_is_due(queue, logged, firm, monkeypatch, caplog):
    def dies(*_):
        raise RuntimeError("the disk can't be read")

    monkeypatch.setattr("records.services.log_looks.look_at_log", dies)
    look_at_logs.call()
    look_at_log_of.call(str(firm.pk))
    (look,) = LogLook.objects.for_firm(firm)
    assert [one["wording"] for one in look.broken] == ["log/look_broke_off"]
    assert "the disk can't be read" in caplog.text
    assert "look_at_logs" in [name for name, _ in queue()]


def test_text_in_the_place_of_bytes_is_named_and_does_not_break_the_look(logged, firm, done):
    """PostgreSQL makes bytes of it; SQLite keeps it as text."""
    by_sql("UPDATE records_signedrecord SET record = 'text' WHERE uuid = %s", key_of(logged[0]))
    by_sql("UPDATE records_logentry SET leaf = 'text' WHERE " + '"index" = 3')
    found = {(one.whose, one.fault.wording) for one in look_at_log(firm).broken}
    assert {(f"{done.number} v1", "log/leaf_changed"), (f"{done.number} v2", "log/leaf_changed")} <= found


def test_after_a_look_that_failed_a_manager_sees_what_and_what_to_do(manager, logged, firm, done):
    change_a_record(logged)
    look_and_keep(firm)
    for name in ("home", "register"):
        page = manager.get(reverse(name)).content.decode()
        assert "The firm&#x27;s log does not hold." in page or "The firm's log does not hold." in page
        assert f"It concerns {done.number} v1." in page
        assert "Change nothing, keep a copy of the machine" in page
    page = manager.get(reverse("log")).content.decode()
    assert "the record&#x27;s bytes are not those that were entered in the log at 0" in page


def test_it_is_said_in_spanish(manager, logged, firm, done):
    change_a_record(logged)
    look_and_keep(firm)
    page = manager.get(reverse("home"), headers={"Accept-Language": "es"}).content.decode()
    assert "El registro de firmas de la empresa no vale." in page


def test_a_look_that_holds_takes_the_warning_down(manager, logged, firm):
    LogLook.objects.create(firm=firm, entries=7, root="", faults=1, broken=[])
    assert "does not hold" in manager.get(reverse("home")).content.decode()
    look_and_keep(firm)
    assert "does not hold" not in manager.get(reverse("home")).content.decode()


def test_that_there_was_no_look_for_days_is_said(manager, logged, firm):
    with clock.at(clock.now() - timedelta(days=3)):
        look_and_keep(firm)
    assert "see whether the worker runs" in manager.get(reverse("home")).content.decode()
    look_and_keep(firm)
    assert "see whether the worker runs" not in manager.get(reverse("home")).content.decode()


@pytest.mark.parametrize("role", ["crew", "office", "inspector"])
def test_nobody_else_sees_it_nor_has_it_looked_at(client, logged, member, firm, role):
    LogLook.objects.create(firm=firm, entries=7, root="", faults=1, broken=[])
    member.role = role
    member.save()
    client.force_login(member.user)
    assert "does not hold" not in client.get(reverse("home")).content.decode()
    assert client.get(reverse("log")).status_code == 403
    takes_the_head = role == "inspector"
    assert client.get(reverse("log_head")).status_code == (200 if takes_the_head else 403)
    assert (reverse("log_head") in client.get(reverse("account")).text) == takes_the_head
    assert client.post(reverse("look_at_log")).status_code == 403


def test_a_manager_has_it_looked_at_now_by_name(manager, logged, firm, colleague):
    answer = manager.post(reverse("look_at_log"), follow=True)
    assert "It holds." in answer.content.decode()
    assert LogLook.objects.for_firm(firm).get().by == colleague.user
    assert newest(firm, thing="records.loglook").by == colleague.user


def test_a_head_that_is_kept_elsewhere_fits_until_the_log_is_rewritten(manager, logged, firm):
    answer = manager.get(reverse("log_head"))
    head = answer.json()
    assert answer.headers["Content-Disposition"] == 'attachment; filename="log-head-7.json"'
    assert look_at_log(firm, head).broken == []
    by_sql("UPDATE records_logentry SET leaf = %s WHERE " + '"index" = 6', bytes(32))
    assert "log/kept_head_differs" in [one.fault.wording for one in look_at_log(firm, head).broken]


def test_a_firm_that_signed_nothing_has_a_page_and_no_head(manager):
    assert "Nothing is signed yet." in manager.get(reverse("log")).content.decode()
    assert manager.get(reverse("log_head")).status_code == 404


def test_another_firms_looks_and_keys_are_not_shown(client, logged, firm, stranger):
    look_and_keep(firm)
    client.force_login(stranger.user)
    page = client.get(reverse("log")).content.decode()
    assert "It was not looked at yet." in page
    assert logged[0].key.digest not in page


@pytest.mark.parametrize("statement", ["DELETE FROM records_loglook", "UPDATE records_loglook SET faults = 0"])
def test_what_a_look_came_to_is_never_changed_or_removed(logged, firm, statement):
    look_and_keep(firm)
    with pytest.raises(DatabaseError, match="never changed or removed"), connection.cursor() as cursor:
        cursor.execute(statement)


def test_of_very_many_faults_the_first_are_kept_and_all_are_counted(logged, firm):
    by_sql("UPDATE records_logentry SET leaf = %s", bytes(32))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("records.services.log_looks.MOST_KEPT", 2)
        look = look_and_keep(firm)
    assert look.faults > len(look.broken) == 2


def test_a_log_whose_end_was_cut_off_is_shorter_than_an_earlier_look_found_it(logged, firm):
    look_and_keep(firm)
    by_sql("DELETE FROM records_logentry WHERE " + '"index" = 6')
    by_sql("DELETE FROM records_treehead WHERE size = 7")
    assert "log/shorter_than_before" in [one.fault.wording for one in look_at_log(firm).broken]


def test_a_log_that_was_written_anew_is_other_than_an_earlier_look_found_it(logged, firm):
    look_and_keep(firm)
    by_sql("UPDATE records_loglook SET root = %s", "sha256:" + "0" * 64)
    assert "log/other_than_before" in [one.fault.wording for one in look_at_log(firm).broken]


def test_a_look_that_waits_is_not_asked_for_again_and_another_firm_s_is(queue, manager, client, firm, stranger):
    for _ in range(3):
        assert manager.post(reverse("look_at_log")).status_code == 302
    queue_look_at(stranger.firm, stranger.user)
    assert [name for name, _ in queue()] == ["look_at_log_of", "look_at_log_of"]
    work_off()
    manager.post(reverse("look_at_log"))
    assert [name for name, _ in queue()] == ["look_at_log_of"]
