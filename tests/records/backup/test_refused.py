"""What this service did not make, or can't take in, is refused in a sentence before anything is touched."""

import errno
import json
from pathlib import Path
from zipfile import ZipFile

import pytest
from django.core.management import call_command
from django.db import connection

from records.backup import archive, databases
from records.backup.wordings import BackupError

NOTHING = {"bytes": 0, "sha256": ""}


@pytest.fixture(autouse=True)
def var(db, settings, tmp_path) -> Path:
    settings.VAR_DIR = tmp_path / "var"
    settings.VAR_DIR.mkdir()
    return settings.VAR_DIR


def made_by_hand(file: Path, *names: str, **changed: object) -> Path:
    """A backup of these empty files and a database, some members of its manifest changed."""
    names = (*names, databases.database().member)
    stated = {
        "schema": "backup/1",
        "engine": connection.vendor,
        "migrations": [],
        "heads": {},
        "files": dict.fromkeys(names, NOTHING),
        **changed,
    }
    with ZipFile(file, "w") as archive:
        for name in names:
            archive.writestr(name, b"")
        archive.writestr("manifest.json", json.dumps(stated))
    return file


def refused(capsys, file: Path, *options: str) -> str:
    with pytest.raises(SystemExit) as ended:
        call_command("restore", str(file), *options)
    assert ended.value.code == 1
    return capsys.readouterr().err


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"schema": "backup/9"}, "is no backup"),
        ({"engine": "punch cards"}, "punch cards"),
        ({"migrations": [["records", "9999_of_tomorrow"]]}, "newer version"),
        ({"files": {}}, "other files"),
        ({"files": None}, "does not say what every backup says"),
    ],
)
def test_another_manifest_is_refused(tmp_path, changed, sentence, capsys):
    assert sentence in refused(capsys, made_by_hand(tmp_path / "other.zip", "database", **changed))


@pytest.mark.parametrize("name", ["../out", "/tmp/out", "files/../../out", "elsewhere/out", "keys/./x"])
def test_a_name_that_leads_out_of_the_folder_is_refused(tmp_path, name, capsys):
    said = refused(capsys, made_by_hand(tmp_path / "other.zip", name))
    assert "is no backup" in said
    assert name in said


@pytest.mark.parametrize(
    "name",
    [
        "var/secret-key",
        "var/keys/firm.pem",
        "var/files/photo",
        "var/static/page.js",
        "var/service.sqlite3",
        "var/service.sqlite3-wal",
        "var/.restoring/x",
        "files/copy.jpg",
        "files/.before-restore/x",
        "keys/firm.pem",
        "secret-key",
        "database.sqlite3-wal",
        "database.other",
        "files",
        "var/static",
    ],
)
def test_what_no_backup_without_keys_holds_is_refused(tmp_path, var, name, settings, monkeypatch, capsys):
    for folder in ("STATIC_ROOT", "FILES_DIR", "KEY_DIR"):
        setattr(settings, folder, var / folder.partition("_")[0].lower().replace("key", "keys"))
    monkeypatch.setitem(connection.settings_dict, "NAME", str(var / "service.sqlite3"))
    said = refused(capsys, made_by_hand(tmp_path / "other.zip", name, with_keys=False), "--replace")
    assert said.startswith(f"{name} does not belong into such a backup")
    assert list(var.iterdir()) == []


def test_a_backup_without_a_database_is_refused(tmp_path, var, capsys):
    file = tmp_path / "other.zip"
    stated = {"schema": "backup/1", "engine": connection.vendor, "migrations": [], "heads": {}, "files": {}}
    with ZipFile(file, "w") as packed:
        packed.writestr("manifest.json", json.dumps(stated))
    assert "there is no database" in refused(capsys, file, "--replace")


def test_a_member_that_is_not_what_the_manifest_states_is_refused(tmp_path, var, capsys):
    assert "files/a in the backup is not" in refused(capsys, made_by_hand(tmp_path / "other.zip", "files/a"))
    assert list(var.iterdir()) == []


def test_a_disk_that_is_full_is_said_and_leaves_nothing_behind(tmp_path, var, monkeypatch, capsys):
    def full(*_arguments: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(archive, "copied", full)
    said = refused(capsys, made_by_hand(tmp_path / "other.zip", "files/a"))
    assert "did not come to its end: [Errno 28] No space left" in said
    assert list(var.iterdir()) == []


def test_a_database_that_can_t_be_copied_is_said(tmp_path, monkeypatch):
    (tmp_path / "damaged").write_bytes(b"no database at all" * 500)
    monkeypatch.setattr(databases, "_live", lambda: tmp_path / "damaged")
    with pytest.raises(BackupError) as error:
        databases.SQLite().copy_to(tmp_path / "copy")
    assert error.value.say("en") == "the database could not be copied: file is not a database"


def test_without_the_programs_of_postgresql_the_one_that_is_missing_is_named(tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(BackupError) as error:
        databases.PostgreSQL().copy_to(tmp_path / "copy")
    assert error.value.say("en").startswith("there is no pg_dump on PATH")


def test_a_file_that_is_no_archive_is_refused(tmp_path, capsys):
    (tmp_path / "text").write_text("no zip")
    assert "is no backup" in refused(capsys, tmp_path / "text")
    assert "no es una copia" in refused(capsys, tmp_path / "none", "--language", "es")
