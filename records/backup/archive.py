"""The one file that a backup is, or a firm that leaves: a zip whose last member, the manifest, says what must
lie in it."""

import fcntl
import hashlib
import json
import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import IO, Any
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from records.backup.wordings import BackupError

MANIFEST = "manifest.json"
MOST_OF_A_MANIFEST = 500_000_000
AT_A_TIME = 1 << 20

Json = dict[str, Any]


@dataclass(frozen=True)
class Contents:
    """What a kind of file is called in its manifest, what that says, and the folders that lie in it."""

    schema: str
    members: Mapping[str, type]
    folders: tuple[str, ...]


BACKUP = Contents(
    "backup/1",
    {"engine": str, "migrations": list, "heads": dict, "files": dict},
    ("files", "var", "keys"),
)


class Packing:
    """A file that is being written; `files` are the size and SHA-256 of what is in it so far, by name."""

    def __init__(self, archive: ZipFile) -> None:
        self._archive = archive
        self.files: dict[str, Json] = {}

    def add(self, name: str, path: Path) -> None:
        """Put a file in; one that was taken away meanwhile is left out."""
        with suppress(FileNotFoundError), path.open("rb") as source:
            info = ZipInfo(name)
            info.compress_type = ZIP_STORED if name.startswith("files/") else ZIP_DEFLATED
            info.external_attr = 0o600 << 16
            with self._archive.open(info, "w", force_zip64=True) as member:
                self.files[name] = copied(source, member)

    def write(self, name: str, pieces: Iterable[bytes]) -> None:
        """Put in what is made piece by piece; none of it is kept meanwhile."""
        info = ZipInfo(name)
        info.compress_type = ZIP_DEFLATED
        info.external_attr = 0o600 << 16
        hashed, size = hashlib.sha256(), 0
        with self._archive.open(info, "w", force_zip64=True) as member:
            for piece in pieces:
                member.write(piece)
                hashed.update(piece)
                size += len(piece)
        self.files[name] = {"bytes": size, "sha256": hashed.hexdigest()}

    def finish(self, contents: Contents, stated: Json) -> None:
        manifest = {"schema": contents.schema, **stated, "files": self.files}
        info = ZipInfo(MANIFEST)
        info.compress_type = ZIP_DEFLATED
        self._archive.writestr(info, json.dumps(manifest, indent=1, sort_keys=True))


def copied(source: IO[bytes], target: IO[bytes]) -> Json:
    """Copy all bytes, and say how many they were and their SHA-256."""
    return summed(source, target.write)


def summed(source: IO[bytes], also: Callable[[bytes], object] = len) -> Json:
    """How many bytes there are and their SHA-256; each piece of them is `also` given away."""
    hashed, size = hashlib.sha256(), 0
    while piece := source.read(AT_A_TIME):
        also(piece)
        hashed.update(piece)
        size += len(piece)
    return {"bytes": size, "sha256": hashed.hexdigest()}


def half_of(file: Path) -> Path:
    """Where it is while it is written."""
    return file.with_name(f".{file.name}.part")


@contextmanager
def written_whole(file: Path) -> Iterator[IO[bytes]]:
    """A new file that has its name only once all of it is on the disk. Raises BackupError."""
    half = half_of(file)
    with os.fdopen(os.open(half, os.O_RDWR | os.O_CREAT, 0o600), "w+b") as out:
        _only_one(out, half, file)
        try:
            yield out
            out.flush()
            os.fsync(out.fileno())
            half.rename(file)
        finally:
            half.unlink(missing_ok=True)
    folder = os.open(file.parent, os.O_RDONLY)
    os.fsync(folder)
    os.close(folder)


def _only_one(out: IO[bytes], half: Path, file: Path) -> None:
    """Whoever waited to open it may hold what has got its name by now, and would empty that."""
    try:
        fcntl.flock(out, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if file.exists() or not os.path.samestat(half.stat(), os.fstat(out.fileno())):
            raise BackupError("backup/there_already", file=str(file))
    except (BlockingIOError, FileNotFoundError):
        raise BackupError("backup/at_work", file=str(file)) from None
    out.truncate()


def schema_of(file: Path) -> str | None:
    """What kind of file it says that it is; nothing where it says nothing that can be read."""
    try:
        with ZipFile(file) as archive:
            info = archive.getinfo(MANIFEST)
            manifest = json.loads(archive.read(info)) if info.file_size <= MOST_OF_A_MANIFEST else None
    except (OSError, KeyError, ValueError, BadZipFile):
        return None
    return manifest.get("schema") if isinstance(manifest, dict) else None


@contextmanager
def opened(file: Path, contents: Contents = BACKUP) -> Iterator[tuple[ZipFile, Json]]:
    """The archive and its manifest, in which every name is one that may be unpacked. Raises BackupError."""
    try:
        archive = ZipFile(file)
    except (OSError, BadZipFile) as error:
        raise BackupError("restore/not_a_backup", file=str(file), why=str(error)) from error
    with archive:
        yield archive, _manifest(archive, file, contents)


def _manifest(archive: ZipFile, file: Path, contents: Contents) -> Json:
    def refuse(why: str) -> BackupError:
        return BackupError("restore/not_a_backup", file=str(file), why=why)

    try:
        info = archive.getinfo(MANIFEST)
        if info.file_size > MOST_OF_A_MANIFEST:
            raise refuse(f"its {MANIFEST} is too large")
        manifest = json.loads(archive.read(info))
    except (KeyError, ValueError, BadZipFile):
        raise refuse(f"no {MANIFEST} that can be read") from None
    if not isinstance(manifest, dict) or manifest.get("schema") != contents.schema:
        raise refuse(f"its {MANIFEST} is not {contents.schema}")
    if any(not isinstance(manifest.get(name), kind) for name, kind in contents.members.items()):
        raise refuse(f"its {MANIFEST} does not say what every backup says")
    names = sorted(archive.namelist())
    if names != sorted([MANIFEST, *manifest["files"]]):
        raise refuse(f"it holds other files than its {MANIFEST} says")
    if odd := [name for name in names if not _may_be_unpacked(name, contents)]:
        raise refuse(odd[0])
    return manifest


def _may_be_unpacked(name: str, contents: Contents) -> bool:
    path = PurePosixPath(name)
    if path.is_absolute() or ".." in path.parts or str(path) != name:
        return False
    return len(path.parts) == 1 or path.parts[0] in contents.folders


def unpack(archive: ZipFile, name: str, stated: Json, target: Path) -> None:
    """One member as a file for this user alone. Raises BackupError if it is not what the manifest states."""
    target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    try:
        with os.fdopen(handle, "wb") as out, archive.open(name) as member:
            found = copied(member, out)
            out.flush()
            os.fsync(out.fileno())
    except BadZipFile:
        found = {}
    if found != stated:
        raise BackupError("restore/changed", name=name)
