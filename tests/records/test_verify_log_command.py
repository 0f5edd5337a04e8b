"""`verify_log` says in one line what a firm's log comes to, and names each record that does not hold."""

import json
import os
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest
from django.conf import settings
from django.core.management import call_command

from records.models import TreeHead
from tests.records.logged import by_sql, key_of


def run(capsys, *arguments: str) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as ended:
        call_command("verify_log", *arguments)
    said = capsys.readouterr()
    return ended.value.code, said.out, said.err


def test_a_log_that_holds_is_said_to_hold(logged, firm, capsys):
    code, said, _ = run(capsys)
    root = TreeHead.objects.for_firm(firm).first().head["root"]
    assert code == 0
    assert said.splitlines() == [f"{firm.name}: 7 entries, 7 signed heads, root {root}", "The log holds."]


def test_a_record_that_was_changed_is_named_with_what_it_means(logged, firm, done, capsys):
    changed = bytes(logged[0].record).replace(b"R. Osei", b"R. Osel", 1)
    by_sql("UPDATE records_signedrecord SET record = %s WHERE uuid = %s", changed, key_of(logged[0]))
    code, said, _ = run(capsys, "--firm", str(firm.pk))
    assert code == 1
    assert (
        f"FAILS  {done.number} v1: the record's bytes are not those that were entered in the log at 0" in said
    )
    assert said.endswith("The log does not hold.\n")


def test_entries_from_before_signed_heads_were_kept_are_counted(logged, firm, capsys):
    by_sql("DELETE FROM records_treehead WHERE size < 3")
    code, said, _ = run(capsys)
    assert (code, said.splitlines()[1]) == (
        0, f"{firm.name}: 2 entries came in before signed heads were kept: nothing signed says when"
    )  # fmt: skip


def test_it_speaks_spanish(logged, capsys):
    code, said, _ = run(capsys, "--language", "es")
    assert (code, said.splitlines()[-1]) == (0, "El registro de firmas vale.")


def test_a_head_that_was_kept_elsewhere_is_set_against_the_log(logged, firm, tmp_path, capsys):
    file = tmp_path / "head.json"
    file.write_text(json.dumps(TreeHead.objects.for_firm(firm).get(size=3).head))
    assert run(capsys, "--head", str(file))[0] == 0
    by_sql("UPDATE records_logentry SET leaf = %s", bytes(32))
    assert "kept elsewhere does not fit" in run(capsys, "--head", str(file))[1]


@pytest.mark.parametrize("firm_id", ["nobody", "00000000-0000-4000-8000-000000000000"])
def test_a_firm_that_is_not_there_is_refused_in_a_sentence(db, firm_id, capsys):
    assert run(capsys, "--firm", firm_id) == (2, "", f"There is no firm {firm_id}.\n")


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"log": 3}'])
def test_a_file_that_is_no_head_is_refused_in_a_sentence(db, text, tmp_path, capsys):
    file = tmp_path / "head.json"
    file.write_text(text)
    assert run(capsys, "--head", str(file)) == (2, "", f"{file} is no signed head of a log.\n")


@pytest.mark.parametrize(
    "damage",
    [{"size": "3"}, {"root": "sha256:0"}, {"at": None}, {"signatures": [3]}, {"signatures": 0}, {"more": 1.5}],
)
def test_a_kept_head_that_was_damaged_is_not_blamed_on_the_database(logged, firm, damage, tmp_path, capsys):
    file = tmp_path / "head.json"
    file.write_text(json.dumps(TreeHead.objects.for_firm(firm).get(size=3).head | damage))
    assert run(capsys, "--head", str(file)) == (2, "", f"{file} is no signed head of a log.\n")


def test_sqlite_overwrites_what_it_deletes(tmp_path):
    """By the settings that are in use, whatever the tests run on."""
    code = "from django.db import connection as c; print(*c.cursor().execute('PRAGMA secure_delete'))"
    given = {**os.environ, "DATABASE_URL": f"sqlite:///{tmp_path / 'new.sqlite3'}", "VAR_DIR": str(tmp_path)}
    for name in ("DJANGO_SETTINGS_MODULE", "SECRET_KEY"):
        given.pop(name, None)
    command = [sys.executable, str(settings.BASE_DIR / "manage.py"), "shell", "--no-imports", "-c", code]
    ended = subprocess.run(command, env=given, capture_output=True, text=True, check=True)
    assert ended.stdout == "(1,)\n"


@pytest.mark.parametrize("damage", ["no database", "a page"])
def test_a_database_file_that_is_damaged_is_said_in_a_sentence(damage, tmp_path):
    """In a process of its own, by SQLite whatever the tests run on."""
    file = tmp_path / "damaged.sqlite3"
    given = {**os.environ, "DATABASE_URL": f"sqlite:///{file}", "VAR_DIR": str(tmp_path)}
    for name in ("DJANGO_SETTINGS_MODULE", "SECRET_KEY"):
        given.pop(name, None)
    if damage == "no database":
        file.write_bytes(b"no database at all" * 500)
    else:
        with closing(sqlite3.connect(file)) as made:
            made.execute("CREATE TABLE records_firm (uuid, name)")
            made.executemany("INSERT INTO records_firm VALUES (?, ?)", [("0" * 32, "x" * 900)] * 99)
            made.commit()
        data = bytearray(file.read_bytes())
        data[4096:] = b"\xff" * (len(data) - 4096)
        file.write_bytes(data)
    command = [sys.executable, str(settings.BASE_DIR / "manage.py"), "verify_log"]
    ended = subprocess.run(command, env=given, capture_output=True, text=True, check=False)
    assert ended.returncode == 2
    assert ended.stderr.startswith("The database can't be read whole, so nothing can be said of the log: ")
    assert len(ended.stderr.splitlines()) == 1
