"""The photos that a record in a bundle names, as they came."""

from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Any

from records.document.evidence import named_in
from records.models import Photo, SignedRecord
from records.services import photo_store

PLACE = frozenset({"site", "customer"})
"""A picture may show whose house it is, and hold where it was taken: without these no photo goes out."""

_ENDINGS = {"image/jpeg": "jpg", "image/png": "png"}


def photos_of(
    record: SignedRecord, file: dict[str, Any], withheld: Collection[str]
) -> Iterator[tuple[str, Path]]:
    """What sections and follow-ups of this file name by digest, and is still kept."""
    names = named_in(file["sections"], file["follow_ups"])
    if not names or PLACE & set(withheld):
        return
    rows = Photo.objects.for_firm(record.firm).filter(treatment=record.treatment, sha256__in=names)
    for photo in rows.exclude(received_at=None).order_by("sha256"):
        path = photo_store.original(photo)
        if path.exists():
            yield f"photos/{photo.sha256}.{_ENDINGS.get(photo.media_type, 'bin')}", path
