"""Where the bytes of photos are: files that only this user can read, a folder for each firm's treatment."""

import hashlib
import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from django.conf import settings

from records.models import Photo

VIEWING, SMALL = 1600, 320
"""The longest sides, in pixels, of the copies that pages show."""


def original(photo: Photo) -> Path:
    """The photo's bytes as they came."""
    folder = Path(settings.FILES_DIR) / str(photo.firm_id) / "photos" / str(photo.treatment_id)
    return folder / photo.sha256


def half(photo: Photo) -> Path:
    """What has come of the photo so far."""
    return original(photo).with_suffix(".half")


def copy(photo: Photo, longest_side: int) -> Path:
    return original(photo).with_suffix(f".{longest_side}.jpg")


def write_piece(photo: Photo, offset: int, piece: bytes) -> None:
    """Put the piece where it belongs; what stood behind it goes. Done only once it is on the disk."""
    path = half(photo)
    make_private_folder(path.parent)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.seek(offset)
        file.write(piece)
        file.truncate()
        file.flush()
        os.fsync(file.fileno())


def digest_of(path: Path) -> str:
    """The digest of a file's bytes. Raises FileNotFoundError."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def write_copy(path: Path, data: bytes) -> None:
    beside = path.with_suffix(f".{os.getpid()}.part")
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
    beside.replace(path)


def remove(photo: Photo) -> None:
    for path in _files(photo):
        path.unlink(missing_ok=True)


def _files(photo: Photo) -> Iterator[Path]:
    yield original(photo)
    yield half(photo)
    yield from (copy(photo, side) for side in (VIEWING, SMALL))


def make_private_folder(folder: Path) -> None:
    """Each folder on the way is made for this user alone, whatever the umask."""
    for each in (*reversed(folder.parents), folder):
        if not each.exists():
            with suppress(FileExistsError):
                each.mkdir(mode=0o700)
