"""What belongs into a backup beside the database: every file of the service that is not remade by itself."""

from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from django.conf import settings
from django.db import connection

from records.backup.databases import database

SECRET = "secret-key"  # noqa: S105 - the file's name
REMADE = (".half", ".part", ".jpg")
"""Endings of what a photo's sender sends again, and of copies that pages make anew."""

DATABASE_FILES = ("", "-wal", "-shm", "-journal")


def files_of_firms(folder: str = "") -> Iterator[tuple[str, Path]]:
    """Photos as they came in, each with its name in the backup; of one firm where its `folder` is named."""
    root = Path(settings.FILES_DIR)
    for path in _files(root / folder):
        if path.suffix not in REMADE:
            yield f"files/{path.relative_to(root).as_posix()}", path


def files_beside() -> Iterator[tuple[str, Path]]:
    """What else lies under VAR_DIR, secrets left out."""
    root = Path(settings.VAR_DIR)
    for path in _files(root):
        if _lies_beside(path):
            yield f"var/{path.relative_to(root).as_posix()}", path


def _lies_beside(path: Path) -> bool:
    """Whether it is neither the database, nor a secret, nor in a folder that is kept or made anew by itself."""
    root, path = Path(settings.VAR_DIR), path.resolve()
    folders = (settings.STATIC_ROOT, settings.FILES_DIR, settings.KEY_DIR)
    elsewhere = [Path(folder).resolve() for folder in folders]
    files = [root / SECRET, *(f"{connection.settings_dict['NAME']}{ending}" for ending in DATABASE_FILES)]
    left_out = {*elsewhere, *(Path(file).resolve() for file in files)}
    return path not in left_out and not any(folder in path.parents for folder in elsewhere)


def secrets() -> Iterator[tuple[str, Path]]:
    """The private halves of the firms' keys, and what signs sessions."""
    root = Path(settings.KEY_DIR)
    for path in _files(root):
        yield f"keys/{path.relative_to(root).as_posix()}", path
    if (Path(settings.VAR_DIR) / SECRET).exists():
        yield SECRET, Path(settings.VAR_DIR) / SECRET


def belongs(name: str, with_keys: bool) -> bool:
    """Whether a backup of this service would hold a file of this name; anything else could take the place of
    what was looked at after the look."""
    if name in (SECRET, database().member):
        return with_keys or name != SECRET
    folder, _slash, rest = name.partition("/")
    path = PurePosixPath(rest)
    if not rest or _hidden(path):
        return False
    if folder == "files":
        return path.suffix not in REMADE
    return with_keys if folder == "keys" else folder == "var" and _lies_beside(Path(settings.VAR_DIR) / path)


def _files(root: Path) -> Iterator[Path]:
    """Ordinary files below; hidden ones are half-done work."""
    for path in sorted(root.rglob("*")):
        if path.is_file() and not path.is_symlink() and not _hidden(path.relative_to(root)):
            yield path


def _hidden(path: PurePosixPath) -> bool:
    return any(part.startswith(".") for part in path.parts)
