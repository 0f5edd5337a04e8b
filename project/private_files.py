"""Folders and files that only this user can read: they hold secrets and people's data."""

import os
import secrets
from contextlib import suppress
from pathlib import Path

OTHERS = 0o077


def private_folder(path: Path, ours: bool) -> None:
    """Make the folder if there is none. One that is there is closed to others only if it is `ours` alone."""
    if not path.exists():
        path.mkdir(mode=0o700, parents=True, exist_ok=True)
    elif ours:
        _close(path)


def private_file(path: Path) -> None:
    """Make an empty file if there is none, and close it to others if it was open to them."""
    with suppress(FileExistsError, FileNotFoundError, PermissionError):
        os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    _close(path)


def kept_secret(path: Path) -> str:
    """The secret kept in `path`, made on the first run."""
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return path.read_text()
    secret = secrets.token_urlsafe(64)
    with os.fdopen(handle, "w") as file:
        file.write(secret)
    return secret


def is_open_to_others(path: Path) -> bool:
    return path.exists() and bool(path.stat().st_mode & OTHERS)


def _close(path: Path) -> None:
    """What belongs to another user stays as it is; a system check tells of it."""
    if is_open_to_others(path):
        with suppress(PermissionError):
            path.chmod(path.stat().st_mode & ~OTHERS & 0o777)
