"""Make a backup while the service is in use."""

import platform
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import django
from django.conf import settings
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from records.backup import contents
from records.backup.archive import BACKUP, Packing, written_whole
from records.backup.databases import database
from records.backup.firms import firms
from records.backup.photos import damaged_photos
from records.backup.wordings import BackupError
from records.models import AuditEntry, TreeHead
from records.services.audit import note
from shared import clock

Json = dict[str, Any]


@dataclass(frozen=True)
class Made:
    """What was put into the file; `damaged` are photos that are missing or not what they were."""

    file: Path
    files: int
    bytes: int
    firms: int
    damaged: list[str] = field(default_factory=list)


def make_backup(file: Path, with_keys: bool = False) -> Made:
    """Everything in one new file. Heads come first and files last, so that a head never says more than the
    database, and no row names a file that was not there yet. It is noted in every firm. Raises BackupError."""
    refuse_place(file)
    for firm in firms():
        note(AuditEntry.Kind.EXPORTED, firm, firm=firm, reason="backup")
    heads = newest_heads()
    copy = file.with_name(f".{file.name}.database")
    try:
        with written_whole(file) as out, ZipFile(out, "w") as archive:
            packing = Packing(archive)
            copy.unlink(missing_ok=True)
            copy.touch(mode=0o600)
            database().copy_to(copy)
            packing.add(database().member, copy)
            for name, path in (*contents.files_of_firms(), *contents.files_beside()):
                packing.add(name, path)
            for name, path in contents.secrets() if with_keys else ():
                packing.add(name, path)
            packing.finish(BACKUP, {**versions(), "heads": heads, "with_keys": with_keys})
    except OSError as error:
        raise BackupError("backup/unwritable", file=str(file), why=error.strerror or str(error)) from error
    finally:
        copy.unlink(missing_ok=True)
    return Made(file, len(packing.files), file.stat().st_size, len(heads), damaged_photos(packing.files))


def refuse_place(file: Path) -> None:
    """Raises BackupError where nothing can be written, or it would lie beside what it is a copy of."""
    target = file.resolve()
    if file.exists():
        raise BackupError("backup/there_already", file=str(file))
    if not target.parent.is_dir():
        raise BackupError("backup/no_folder", folder=str(file.parent))
    for folder in (settings.VAR_DIR, settings.FILES_DIR, settings.KEY_DIR):
        if Path(folder).resolve() in target.parents:
            raise BackupError("backup/inside", file=str(file), folder=str(folder))


def newest_heads() -> Json:
    """The newest signed head of each firm's log, by the firm's id."""
    newest = ((str(firm.pk), TreeHead.objects.for_firm(firm).order_by("-size").first()) for firm in firms())
    return {firm: row.head for firm, row in newest if row}


def versions() -> Json:
    """Of what it was made by, and when."""
    project = tomllib.loads((settings.BASE_DIR / "pyproject.toml").read_text())["project"]
    connection.ensure_connection()
    return {
        "made_at": clock.now().isoformat(timespec="seconds"),
        "engine": connection.vendor,
        "versions": {
            project["name"]: project["version"],
            "django": django.get_version(),
            "python": platform.python_version(),
            connection.vendor: ".".join(map(str, connection.get_database_version())),
        },
        "migrations": sorted(map(list, MigrationRecorder(connection).applied_migrations())),
    }
