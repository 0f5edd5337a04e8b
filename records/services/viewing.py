"""The copies of a photo that pages show, made at the first need where they are not there."""

from pathlib import Path

from records.models import Photo
from records.pictures import copy_of
from records.services.photo_store import SMALL, VIEWING, copy, original, write_copy


def viewing_copy(photo: Photo) -> Path:
    return _copy(photo, VIEWING, original(photo))


def small_copy(photo: Photo) -> Path:
    return _copy(photo, SMALL, viewing_copy(photo))


def _copy(photo: Photo, longest_side: int, source: Path) -> Path:
    path = copy(photo, longest_side)
    if not path.exists():
        write_copy(path, copy_of(source, longest_side))
    return path
