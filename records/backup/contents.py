"""What belongs into a backup beside the database: every file of the service that is not remade by itself."""

from collections.abc import Iterator
from pathlib import Path

from django.conf import settings
from django.db import connection

SECRET = "secret-key"  # noqa: S105 - the file's name
REMADE = (".half", ".part", ".jpg")
"""Endings of what a photo's sender sends again, and of copies that pages make anew."""

DATABASE_FILES = ("", "-wal", "-shm", "-journal")


def files_of_firms() -> Iterator[tuple[str, Path]]:
    """Photos as they came in, each with its name in the backup."""
    root = Path(settings.FILES_DIR)
    for path in _files(root):
        if path.suffix not in REMADE:
            yield f"files/{path.relative_to(root).as_posix()}", path


def files_beside() -> Iterator[tuple[str, Path]]:
    """What else lies under VAR_DIR, secrets left out."""
    root = Path(settings.VAR_DIR)
    elsewhere = [Path(folder) for folder in (settings.STATIC_ROOT, settings.FILES_DIR, settings.KEY_DIR)]
    database = connection.settings_dict["NAME"]
    left_out = {str(root / SECRET), *(f"{database}{ending}" for ending in DATABASE_FILES)}
    for path in _files(root):
        if str(path) not in left_out and not any(folder in path.parents for folder in elsewhere):
            yield f"var/{path.relative_to(root).as_posix()}", path


def secrets() -> Iterator[tuple[str, Path]]:
    """The private halves of the firms' keys, and what signs sessions."""
    root = Path(settings.KEY_DIR)
    for path in _files(root):
        yield f"keys/{path.relative_to(root).as_posix()}", path
    if (Path(settings.VAR_DIR) / SECRET).exists():
        yield SECRET, Path(settings.VAR_DIR) / SECRET


def _files(root: Path) -> Iterator[Path]:
    """Ordinary files below; hidden ones are half-done work."""
    for path in sorted(root.rglob("*")):
        hidden = any(part.startswith(".") for part in path.relative_to(root).parts)
        if path.is_file() and not path.is_symlink() and not hidden:
            yield path
