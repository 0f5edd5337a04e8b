"""Which versions of a pack are kept, and from when until when each was in use."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from compliance.models import PacksInUse, PackVersion


@dataclass(frozen=True)
class Span:
    """Use from one moment until another; None while it goes on."""

    since: datetime
    until: datetime | None


@dataclass(frozen=True)
class KeptVersion:
    """A version that is kept, with the spans in which it was in use; without any a record named it only."""

    row: PackVersion
    spans: tuple[Span, ...]

    @property
    def digest(self) -> str:
        """The digest without the name of its method, as it stands in addresses."""
        return self.row.digest.removeprefix("sha256:")

    @property
    def in_use(self) -> bool:
        return any(span.until is None for span in self.spans)


def kept_versions(pack: str) -> list[KeptVersion]:
    """The versions of a pack that are kept, newest first; none for a pack that was never used here."""
    rows = PackVersion.objects.filter(pack=pack).order_by("-kept_at", "pk")
    noted = list(PacksInUse.objects.order_by("since", "pk"))
    return [KeptVersion(row, tuple(_spans(row.digest, noted))) for row in rows]


def _spans(digest: str, noted: list[PacksInUse]) -> Iterator[Span]:
    since: datetime | None = None
    for use in noted:
        if since is None and digest in use.digests:
            since = use.since
        elif since is not None and digest not in use.digests:
            yield Span(since, use.since)
            since = None
    if since is not None:
        yield Span(since, None)
