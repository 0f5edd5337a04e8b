"""Whether the photos that the database names are in a backup."""

from collections.abc import Iterable, Mapping
from typing import Any

from records.backup.firms import firms
from records.models import Firm, Photo


def damaged_photos(
    files: Mapping[str, Mapping[str, Any]], of: Iterable[Firm] | None = None
) -> list[str]:
    """Names, as in a backup, of whole photos that are not among its files or have other bytes."""
    damaged = []
    for firm in firms() if of is None else of:
        whole = Photo.objects.for_firm(firm).exclude(received_at=None)
        for treatment, sha256 in whole.values_list("treatment_id", "sha256").iterator():
            name = f"files/{firm.pk}/photos/{treatment}/{sha256}"
            if files.get(name, {}).get("sha256") != sha256:
                damaged.append(name)
    return damaged
