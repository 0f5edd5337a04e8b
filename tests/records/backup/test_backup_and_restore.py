"""The drill: back up while in use, lose everything, restore, and every firm's log holds."""

import json
import shutil
import stat
from pathlib import Path
from zipfile import ZipFile

import pytest
from django.core import serializers
from django.core.management import call_command
from django.db import DatabaseError, connection, transaction

from records import models
from records.backup import losing
from records.backup.making import newest_heads
from records.log_check import look_at_log
from records.models import LogEntry, Photo, SignedFollowUp, SignedRecord, TreeHead
from records.services.follow_ups import sign_follow_up
from records.services.keys import SigningKeyError
from records.services.photo_store import original
from records.services.to_sign import Signer
from shared import clock
from shared.digests import digest
from shared.orm import triggers
from tests.factories import FirmFactory
from tests.records.logged import AT, by_sql, key_of

PICTURE = b"what a camera took"


@pytest.fixture(autouse=True)
def var(transactional_db, settings, tmp_path) -> Path:
    """A database whose rows are committed, and a folder of the service's own."""
    settings.VAR_DIR = tmp_path / "var"
    settings.STATIC_ROOT = settings.VAR_DIR / "static"
    settings.VAR_DIR.mkdir()
    (settings.VAR_DIR / "secret-key").write_text("that signs sessions")
    (settings.VAR_DIR / "notes.txt").write_text("kept by hand")
    return settings.VAR_DIR


@pytest.fixture
def photo(logged, firm, done, member) -> Photo:
    sha256 = digest(PICTURE).removeprefix("sha256:")
    row = Photo.objects.create(
        firm=firm, treatment=done, sha256=sha256, bytes=len(PICTURE), came_in=len(PICTURE), by=member.user,
        received_at=clock.now(),
    )  # fmt: skip
    original(row).parent.mkdir(parents=True)
    original(row).write_bytes(PICTURE)
    return row


@pytest.fixture
def backup(photo, tmp_path, capsys) -> Path:
    return made(tmp_path / "backup.zip", capsys)


def made(file: Path, capsys, *options: str) -> Path:
    call_command("backup", str(file), *options)
    capsys.readouterr()
    return file


def refused(capsys, *arguments: str) -> str:
    with pytest.raises(SystemExit) as ended:
        call_command(*arguments)
    assert ended.value.code == 1
    return capsys.readouterr().err.strip()


def rows() -> dict[str, list]:
    """All that the database holds of the firm's work."""
    kinds = [getattr(models, name) for name in models.__all__]
    return {
        kind.__name__: json.loads(serializers.serialize("json", kind._base_manager.order_by("pk")))
        for kind in kinds
    }


def lose_everything(var: Path, settings) -> None:
    triggers.remove(connection)
    call_command("flush", interactive=False, verbosity=0)
    for folder in (settings.FILES_DIR, settings.KEY_DIR):
        shutil.rmtree(folder)
    (var / "notes.txt").unlink()


def rewritten(file: Path, target: Path, **changed: bytes) -> Path:
    """The backup with other bytes in some members; a name has `__` for a slash or dot."""
    with ZipFile(file) as archive, ZipFile(target, "w") as out:
        names = [*archive.namelist(), *(name for name in changed if name not in archive.namelist())]
        for name in dict.fromkeys(names):
            out.writestr(name, changed[name] if name in changed else archive.read(name))
    return target


def manifest_of(file: Path) -> dict:
    with ZipFile(file) as archive:
        return json.loads(archive.read("manifest.json"))


def with_manifest(file: Path, target: Path, **members: object) -> Path:
    stated = {**manifest_of(file), **members}
    return rewritten(file, target, **{"manifest.json": json.dumps(stated).encode()})


def test_everything_that_was_lost_is_there_again_and_every_log_holds(
    backup, photo, firm, var, settings, capsys
):
    before = rows()
    lose_everything(var, settings)
    call_command("restore", str(backup))
    said = capsys.readouterr()
    root = TreeHead.objects.for_firm(firm).first().head["root"]
    assert f"{firm.name}: 7 entries, root {root}\nAll logs hold. The backup is in service.\n" == said.out
    assert rows() == before
    assert original(photo).read_bytes() == PICTURE
    assert (var / "notes.txt").read_text() == "kept by hand"
    assert look_at_log(firm).broken == []
    assert triggers.missing(connection) == []
    assert [path.name for path in var.iterdir() if path.name.startswith(".")] == []


def test_what_was_signed_after_the_backup_is_lost_only_where_that_was_asked_for(
    backup, firm, done, colleague, capsys
):
    sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="after the backup")
    said = refused(capsys, "restore", str(backup), "--replace")
    assert f"how many of them are erasures, which would be undone: {firm.name} 1 (0)." in said
    assert (LogEntry.objects.for_firm(firm).count(), look_at_log(firm).broken) == (8, [])
    call_command("restore", str(backup), "--replace", "--lose-entries")
    assert "7 entries" in capsys.readouterr().out
    assert SignedFollowUp.objects.for_firm(firm).count() == 4


def test_it_is_made_while_somebody_writes_and_holds_what_was_committed(photo, firm, tmp_path, capsys):
    with transaction.atomic():
        FirmFactory(name="Not committed yet")
        backup = made(tmp_path / "backup.zip", capsys)
    call_command("restore", str(backup), "--replace")
    assert [line.partition(":")[0] for line in capsys.readouterr().out.splitlines()[:-1]] == [firm.name]


def test_where_what_is_here_cant_be_read_nobody_knows_what_would_be_lost(backup, monkeypatch, capsys):
    def unreadable(_firm):
        raise DatabaseError("no such column")

    monkeypatch.setattr(losing, "_leaves", unreadable)
    said = refused(capsys, "restore", str(backup), "--replace")
    assert "nobody knows what would be lost: no such column" in said


def test_nothing_is_put_in_the_place_of_data_that_nobody_gave_up(backup, firm, done, colleague, capsys):
    sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="after the backup")
    before = rows()
    assert "--replace" in refused(capsys, "restore", str(backup))
    assert rows() == before


def test_without_the_keys_records_are_verified_and_signed_with_a_new_one(
    backup, firm, done, colleague, var, settings, capsys
):
    lose_everything(var, settings)
    call_command("restore", str(backup))
    assert "can't sign" in capsys.readouterr().err
    with pytest.raises(SigningKeyError):
        sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="again in service")
    call_command("replace_lost_keys")
    assert firm.name in capsys.readouterr().out
    sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="again in service")
    call_command("replace_lost_keys")
    assert capsys.readouterr().out == ""
    looked = look_at_log(firm)
    assert (looked.broken, looked.entries) == ([], 9)
    assert [change.lost for change in looked.key_changes] == [True]


def test_with_the_keys_the_restored_firm_signs_at_once(
    photo, firm, done, colleague, var, settings, tmp_path, capsys
):
    call_command("backup", str(tmp_path / "all.zip"), "--with-keys")
    assert "THE PRIVATE KEYS ARE IN IT" in capsys.readouterr().out
    lose_everything(var, settings)
    (var / "secret-key").write_text("of the new machine")
    call_command("restore", str(tmp_path / "all.zip"))
    assert capsys.readouterr().err == ""
    sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="again in service")
    assert look_at_log(firm).broken == []
    assert (var / "secret-key").read_text() == "that signs sessions"


def test_no_secret_lies_in_a_backup_that_was_asked_for_without_keys(backup, settings):
    with ZipFile(backup) as archive:
        names = archive.namelist()
        whole = b"".join(archive.read(name) for name in names)
    assert not [name for name in names if name.startswith("keys") or name == "secret-key"]
    for key in Path(settings.KEY_DIR).iterdir():
        assert key.read_bytes().splitlines()[1] not in whole
    assert stat.S_IMODE(backup.stat().st_mode) == 0o600


@pytest.mark.parametrize("which", ["database", "files/"])
def test_a_backup_in_which_a_byte_was_changed_is_refused_and_nothing_is_touched(
    backup, which, tmp_path, firm, photo, capsys
):
    name = next(name for name in manifest_of(backup)["files"] if name.startswith(which))
    with ZipFile(backup) as archive:
        data = archive.read(name)
    damaged = rewritten(backup, tmp_path / "damaged.zip", **{name: data[:-1] + bytes([data[-1] ^ 1])})
    before = rows()
    assert refused(capsys, "restore", str(damaged), "--replace").startswith(name)
    assert (rows(), original(photo).read_bytes()) == (before, PICTURE)


def test_a_backup_whose_log_is_not_that_of_its_heads_does_not_go_into_service(
    photo,
    logged,
    firm,
    done,
    tmp_path,
    var,
    capsys,
):
    heads = newest_heads()
    changed = bytes(logged[0].record).replace(b"R. Osei", b"R. Osel", 1)
    by_sql("UPDATE records_signedrecord SET record = %s WHERE uuid = %s", changed, key_of(logged[0]))
    forged = with_manifest(made(tmp_path / "one.zip", capsys), tmp_path / "forged.zip", heads=heads)
    by_sql(
        "UPDATE records_signedrecord SET record = %s WHERE uuid = %s",
        bytes(logged[0].record),
        key_of(logged[0]),
    )
    before = rows()
    original(photo).write_bytes(b"of today")
    assert "what was there before is there again" in refused(capsys, "restore", str(forged), "--replace")
    assert rows() == before
    assert original(photo).read_bytes() == b"of today"
    assert SignedRecord.objects.for_firm(firm).get(version=1).record == logged[0].record
    assert [path.name for path in var.iterdir() if path.name.startswith(".")] == []


def test_a_head_of_a_firm_that_the_database_has_not_keeps_it_out_of_service(backup, tmp_path, firm, capsys):
    heads = {**newest_heads(), "00000000-0000-4000-8000-000000000000": newest_heads()[str(firm.pk)]}
    forged = with_manifest(backup, tmp_path / "forged.zip", heads=heads)
    assert "there again" in refused(capsys, "restore", str(forged), "--replace")


def test_a_backup_overwrites_nothing_and_does_not_lie_in_what_it_is_of(backup, var, tmp_path, capsys):
    assert "is there already" in refused(capsys, "backup", str(backup))
    assert "lies inside" in refused(capsys, "backup", str(var / "backup.zip"))
    assert "no folder" in refused(capsys, "backup", str(tmp_path / "nowhere" / "backup.zip"))


def test_a_photo_that_is_missing_is_said_when_it_is_backed_up(photo, tmp_path, capsys):
    original(photo).unlink()
    call_command("backup", str(tmp_path / "backup.zip"))
    assert f"MISSING OR DAMAGED, and so not as it was taken: files/{photo.firm_id}" in capsys.readouterr().err


def test_the_manifest_says_what_made_it_and_the_newest_head_of_each_log(backup, firm):
    stated = manifest_of(backup)
    assert stated["heads"] == {str(firm.pk): TreeHead.objects.for_firm(firm).first().head}
    assert {"django", "python", connection.vendor} <= stated["versions"].keys()
    assert ["records", "0006_log"] in stated["migrations"]


def test_each_firm_is_told_that_a_backup_was_made(stranger, backup, firm):
    for each in (firm, stranger.firm):
        entries = models.AuditEntry.objects.for_firm(each).filter(kind="exported")
        assert [(entry.by, entry.reason) for entry in entries] == [(None, "backup")]
