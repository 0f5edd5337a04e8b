"""Files that a command is given: an ordinary one read up to a bound, and one written whole or not at all."""

import errno
import os
import secrets
import stat
from pathlib import Path

from shared.wording import Blanks, Catalogue, Wording, say

WORDINGS: Catalogue = {
    "file/unreadable": Wording(
        "there is no file {file} that can be read", "no existe un archivo {file} que se pueda leer"
    ),
    "file/not_ordinary": Wording("{file} is not an ordinary file", "{file} no es un archivo ordinario"),
    "file/too_big": Wording(
        "{file} has {size} bytes; at most {most} are read",
        "{file} tiene {size} bytes; se leen como máximo {most}",
    ),
    "file/unwritable": Wording("{file} can't be written: {why}", "no se puede escribir {file}: {why}"),
}


class FileError(ValueError):
    """A file that can't be read or written; says why in every language."""

    def __init__(self, wording_id: str, file: Path, **blanks: str) -> None:
        super().__init__(wording_id)
        self.wording_id = wording_id
        self.blanks: Blanks = {"file": str(file), **blanks}

    def say(self, language: str) -> str:
        return say(WORDINGS, self.wording_id, self.blanks, language)


def read_bounded(path: Path, most_bytes: int) -> bytes:
    """All bytes of an ordinary file of at most so many. Never waits, as for a pipe. Raises FileError."""
    try:
        file = open(path, "rb", opener=_at_once)  # noqa: SIM115 - closed by `with` below
    except IsADirectoryError:
        raise FileError("file/not_ordinary", path) from None
    except OSError:
        raise FileError("file/unreadable", path) from None
    with file:
        found = os.fstat(file.fileno())
        if not stat.S_ISREG(found.st_mode):
            raise FileError("file/not_ordinary", path)
        data = b"" if found.st_size > most_bytes else file.read(most_bytes + 1)
        size = max(found.st_size, len(data))
        if size > most_bytes:
            raise FileError("file/too_big", path, size=str(size), most=str(most_bytes))
        return data


def _at_once(path: str, flags: int) -> int:
    """Open without waiting for who writes into a pipe."""
    return os.open(path, flags | os.O_NONBLOCK)


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that nobody ever sees half of it. Raises FileError.

    A link is followed, a file that is there keeps its permissions, a new one gets the user's usual ones; a
    pipe or device is written into.
    """
    try:
        _write(Path(os.path.realpath(path)), data)
    except OSError as error:
        raise FileError("file/unwritable", path, why=error.strerror or str(error)) from error


def _write(target: Path, data: bytes) -> None:
    if target.is_dir():
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
    if target.exists() and not target.is_file():
        target.write_bytes(data)
        return
    mode = target.stat().st_mode & 0o777 if target.exists() else None
    beside = target.parent / f".{secrets.token_hex(16)}.part"
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
    try:
        with os.fdopen(handle, "wb") as half:
            half.write(data)
        if mode is not None:
            beside.chmod(mode)
        beside.replace(target)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
