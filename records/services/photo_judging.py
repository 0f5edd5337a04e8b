"""Judge a photo once all of its bytes are here: first it is looked at, then its row is locked and written."""

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock
from uuid import UUID

from django.db import transaction

from records.models import Photo
from records.photo_faults import PhotoBusyError, PhotoError
from records.pictures import copy_of, media_type_of
from records.services import photo_store
from shared import clock

_judged_now: set[UUID] = set()
_one_reads_it = Lock()


def complete(photo: Photo) -> Photo:
    """The photo, whole: the announced bytes, a picture, within the bounds.

    Raises PhotoError, and nothing of the photo is kept; PhotoBusyError where others are being judged, or this.
    """
    if photo.is_whole:
        return photo
    with _alone(photo):
        try:
            return _judged(photo)
        except PhotoBusyError:
            raise
        except PhotoError:
            photo.delete()
            photo_store.remove(photo)
            raise


def _judged(photo: Photo) -> Photo:
    half = photo_store.half(photo)
    try:
        if photo_store.digest_of(half) != photo.sha256:
            raise PhotoError("photo/other_bytes")
        return _taken_in(photo, media_type_of(half), copy_of(half, photo_store.VIEWING))
    except FileNotFoundError:
        return _taken_in(photo, "", b"")


@transaction.atomic
def _taken_in(photo: Photo, media_type: str, viewing: bytes) -> Photo:
    """The photo with what was made of it; as it is where another sender of it was quicker."""
    locked = Photo.objects.for_firm(photo.firm).select_for_update().filter(pk=photo.pk).first()
    if locked is None or not (locked.is_whole or viewing):
        raise PhotoError("photo/other_bytes")
    if locked.is_whole:
        return locked
    photo_store.write_copy(photo_store.copy(locked, photo_store.VIEWING), viewing)
    photo_store.half(locked).replace(photo_store.original(locked))
    locked.media_type = media_type
    locked.received_at = clock.now()
    locked.save()
    return locked


@contextmanager
def _alone(photo: Photo) -> Iterator[None]:
    """Who comes second does not wait: that would keep a thread from everybody else."""
    with _one_reads_it:
        if photo.pk in _judged_now:
            raise PhotoBusyError
        _judged_now.add(photo.pk)
    key = photo.pk
    try:
        yield
    finally:
        _judged_now.discard(key)
