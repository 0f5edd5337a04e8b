"""Put a backup in the place of what is there, and let it go into service only if every firm's log holds."""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from zipfile import ZipFile

from django.conf import settings
from django.core.management import call_command
from django.db import DatabaseError, connection
from django.db.migrations.loader import MigrationLoader

from records.backup import archive
from records.backup.contents import SECRET, belongs
from records.backup.databases import database
from records.backup.firms import any_data, firms
from records.backup.losing import Entered, entered_here, refuse_loss
from records.backup.photos import damaged_photos
from records.backup.swap import Swap
from records.backup.wordings import BackupError
from records.log_check import look_at_log
from records.log_found import Looked
from records.models import Firm, User
from records.services.keys import can_sign
from shared.files import write_whole

Json = dict[str, Any]


@dataclass
class Restored:
    """What came of it: each firm's log; `without_key` can't sign until their keys are back or replaced."""

    logs: list[tuple[Firm, Looked]] = field(default_factory=list)
    strangers: list[str] = field(default_factory=list)
    damaged: list[str] = field(default_factory=list)
    without_key: list[Firm] = field(default_factory=list)

    @property
    def holds(self) -> bool:
        return not self.strangers and not any(looked.broken for _firm, looked in self.logs)


def restore(file: Path, replace: bool = False, lose_entries: bool = False) -> Restored:
    """Put it in; where a log does not hold, or anything fails, what was there before is there again; so it is
    where the log that is here has entries that the backup has not, but for `lose_entries`.

    Raises BackupError.
    """
    swap = Swap(database(), Path(settings.VAR_DIR), Path(settings.FILES_DIR))
    swap.put_back_what_was_left()
    with archive.opened(file) as (packed, manifest):
        _refuse(manifest, replace)
        before = entered_here() if has_data() and not lose_entries else {}
        _unpack(packed, manifest, swap)
        swap.start()
        try:
            swap.put_in(swap.new / database().member, swap.new / "files")
            call_command("migrate", verbosity=0)
            restored = _looked_at(manifest, before)
        except BaseException as error:
            swap.put_back()
            if isinstance(error, OSError | DatabaseError):
                raise BackupError("restore/broken_off", why=str(error)) from error
            raise
        if not restored.holds:
            swap.put_back()
            return restored
        _put_beside(swap.new)
        restored.without_key = [firm for firm in firms() if not can_sign(firm)]
        swap.finish()
    return restored


def _refuse(manifest: Json, replace: bool) -> None:
    ours = connection.vendor
    if manifest["engine"] != ours:
        raise BackupError("restore/other_engine", theirs=manifest["engine"], ours=ours)
    known = MigrationLoader(None).disk_migrations
    of_ours = [(app, name) for app, name in manifest["migrations"] if app in ("records", "compliance")]
    if newer := [f"{app} {name}" for app, name in of_ours if (app, name) not in known]:
        raise BackupError("restore/newer", migration=newer[0])
    for name in manifest["files"]:
        if not belongs(name, manifest.get("with_keys") is True):
            raise BackupError("restore/does_not_belong", name=name)
    if database().member not in manifest["files"]:
        raise BackupError("restore/no_database", name=database().member)
    if has_data() and not replace:
        raise BackupError("restore/has_data")


def has_data() -> bool:
    tables = connection.introspection.table_names()
    return User._meta.db_table in tables and any_data()


def _unpack(packed: ZipFile, manifest: Json, swap: Swap) -> None:
    try:
        swap.make_room()
        for name, stated in manifest["files"].items():
            archive.unpack(packed, name, stated, swap.new / name)
    except BaseException as error:
        swap.give_up()
        if isinstance(error, OSError):
            raise BackupError("restore/broken_off", why=str(error)) from error
        raise


def _looked_at(manifest: Json, before: Entered) -> Restored:
    """Raises BackupError where logs that hold have lost something."""
    heads = manifest["heads"]
    logs = [(firm, look_at_log(firm, kept=heads.get(str(firm.pk)))) for firm in firms()]
    strangers = sorted(heads.keys() - {str(firm.pk) for firm, _looked in logs})
    restored = Restored(logs, strangers, damaged_photos(manifest["files"]))
    if restored.holds:
        refuse_loss(before)
    return restored


def _put_beside(folder: Path) -> None:
    """Files under VAR_DIR and the keys; a key that is there is not touched."""
    places: list[tuple[Path, Callable[[Path], Path]]] = [
        (folder / "var", lambda name: Path(settings.VAR_DIR) / name),
        (folder / "keys", lambda name: Path(settings.KEY_DIR) / name),
    ]
    for root, place in places:
        for path in (found for found in root.rglob("*") if found.is_file()):
            target = place(path.relative_to(root))
            if root.name != "keys" or not target.exists():
                _keep(path, target)
    if (folder / SECRET).exists():
        _keep(folder / SECRET, Path(settings.VAR_DIR) / SECRET)


def _keep(path: Path, target: Path) -> None:
    target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    write_whole(target, path.read_bytes())
    target.chmod(0o600)
