"""Put a firm that left into an empty service; it stays there only if its log holds and ends as it did."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from uuid import UUID
from zipfile import BadZipFile, ZipFile

from django.apps import apps as today
from django.apps.registry import Apps
from django.conf import settings
from django.core.management import call_command
from django.db import connection, transaction
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from records.backup import archive
from records.backup.contents import belongs
from records.backup.databases import database
from records.backup.photos import damaged_photos
from records.backup.restoring import Restored, has_data
from records.backup.wordings import BackupError
from records.leaving.loading import load
from records.leaving.tables import OURS
from records.leaving.writing import LEAVING
from records.log_check import look_at_log
from records.models import Firm
from records.services.keys import can_sign

Json = dict[str, Any]
Node = tuple[str, str]


class _DoesNotHoldError(Exception):
    """Takes out again what was put in."""


def restore_firm(file: Path) -> Restored:
    """The whole file is set against its manifest before anything is touched. A file of an older version of the
    program is put into the tables as they were then, and brought up to this one.

    Raises BackupError.
    """
    with archive.opened(file, LEAVING) as (packed, manifest):
        _refuse(manifest)
        _look_through(packed, manifest)
        older = _of_ours(manifest) != _here()
        with _taken_out_unless_it_holds(manifest, older) as restored:
            _unpack(packed, manifest)
            if older:
                _as_it_was(manifest)
            with transaction.atomic():
                load(packed, manifest, _models_of(manifest) if older else today)
                if not older:
                    _look(manifest, restored)
            if older:
                call_command("migrate", verbosity=0)
                _look(manifest, restored)
    return restored


def _refuse(manifest: Json) -> None:
    known = MigrationLoader(None).disk_migrations
    if newer := sorted(_of_ours(manifest) - set(known)):
        raise BackupError("restore/newer", migration=" ".join(newer[0]))
    _refuse_no_id(manifest["firm"].get("uuid"))
    for name in manifest["files"]:
        if name.startswith("files/") and not _is_the_firms(name, manifest):
            raise BackupError("restore/does_not_belong", name=name)
    for label in manifest["tables"]:
        if f"rows/{label}.jsonl" not in manifest["files"]:
            raise BackupError("restore/unknown_table", name=label)
    if has_data():
        raise BackupError("restore/not_empty")


def _refuse_no_id(stated: object) -> None:
    """It becomes the name of a folder."""
    try:
        if isinstance(stated, str) and str(UUID(stated)) == stated:
            return
    except ValueError:
        pass
    raise BackupError("restore/does_not_belong", name=str(stated))


def _is_the_firms(name: str, manifest: Json) -> bool:
    return name.startswith(f"files/{manifest['firm']['uuid']}/") and belongs(name, with_keys=False)


def _look_through(packed: ZipFile, manifest: Json) -> None:
    for name, stated in manifest["files"].items():
        try:
            with packed.open(name) as member:
                found = archive.summed(member)
        except BadZipFile:
            found = {}
        if found != stated:
            raise BackupError("restore/changed", name=name)


@contextmanager
def _taken_out_unless_it_holds(manifest: Json, older: bool) -> Iterator[Restored]:
    restored = Restored()
    try:
        yield restored
    except BaseException as error:
        shutil.rmtree(_folder(manifest), ignore_errors=True)
        if older:
            database().clear()
            call_command("migrate", verbosity=0)
        if not isinstance(error, _DoesNotHoldError):
            raise


def _unpack(packed: ZipFile, manifest: Json) -> None:
    for name, stated in manifest["files"].items():
        if name.startswith("files/"):
            archive.unpack(packed, name, stated, Path(settings.FILES_DIR) / name.removeprefix("files/"))


def _folder(manifest: Json) -> Path:
    return Path(settings.FILES_DIR) / manifest["firm"]["uuid"]


def _as_it_was(manifest: Json) -> None:
    """The tables as they were in the program that wrote the file. Nothing is in them: that was looked at."""
    database().clear()
    for app, name in _ends(_of_ours(manifest)):
        call_command("migrate", app, name, verbosity=0)


def _models_of(manifest: Json) -> Apps:
    return MigrationLoader(connection).project_state(_ends(_of_ours(manifest))).apps


def _look(manifest: Json, restored: Restored) -> None:
    firm = Firm.objects.for_firm(Firm(pk=manifest["firm"]["uuid"])).get()
    restored.logs.append((firm, look_at_log(firm, kept=manifest.get("head"))))
    restored.damaged = damaged_photos(manifest["files"], [firm])
    if not restored.holds:
        raise _DoesNotHoldError
    restored.without_key = [] if can_sign(firm) else [firm]


def _of_ours(manifest: Json) -> set[Node]:
    return {(app, name) for app, name in manifest["migrations"] if app in OURS}


def _here() -> set[Node]:
    return {node for node in MigrationRecorder(connection).applied_migrations() if node[0] in OURS}


def _ends(nodes: set[Node]) -> list[Node]:
    """The last migration of each app."""
    return sorted(max(each for each in nodes if each[0] == app) for app in {app for app, _name in nodes})
