"""What has changed since the bundle handed over before, by the log: it says in which order all came."""

from collections import Counter
from collections.abc import Iterator
from uuid import UUID

from compliance.models import Handing
from compliance.request_bundle.beside_words import CHANGES
from records.bundle.entered import AT_A_TIME, batched
from records.models import LogEntry, Treatment

NAMES = list(CHANGES)
NEW, VERSION, FOLLOW_UP, GONE = "new record", "new version", "new follow-up", "not in this bundle any more"


class Changes:
    """`counted` says how many of each kind, once the lines were read."""

    def __init__(self, handing: Handing) -> None:
        self.handing = handing
        self.counted: Counter[str] = Counter()

    def lines(self) -> Iterator[list[str]]:
        yield NAMES
        for line in (*self._there(), *self._gone()):
            self.counted[line[0]] += 1
            yield line

    def _there(self) -> Iterator[list[str]]:
        since = self.handing.since
        if since is None:
            return
        before = set(since.treatments)
        for some in batched(self.handing.treatments):
            old = [UUID(each) for each in some if each in before]
            yield from self._entries([UUID(each) for each in some if each not in before], 0, NEW)
            yield from self._entries(old, since.log_size or 0, VERSION)

    def _entries(self, treatments: list[UUID], first: int, what: str) -> Iterator[list[str]]:
        entries = LogEntry.objects.for_firm(self.handing.firm)
        entries = entries.filter(index__gte=first, index__lt=self.handing.log_size or 0).order_by("index")
        of = ("treatment__number", "version", "kind", "digest")
        versions = entries.filter(record__treatment__in=treatments)
        for number, version, kind, digest in versions.values_list(*(f"record__{name}" for name in of)):
            yield [what, number, str(version), kind, digest]
        if what == VERSION:
            later = entries.filter(follow_up__follows__treatment__in=treatments)
            named = ("follow_up__follows__treatment__number", "follow_up__follows__version", "follow_up__kind")
            for number, version, kind, digest in later.values_list(*named, "follow_up__digest"):
                yield [FOLLOW_UP, number, str(version), kind, digest]

    def _gone(self) -> Iterator[list[str]]:
        since = self.handing.since
        gone = [UUID(each) for each in set(since.treatments) - set(self.handing.treatments)] if since else []
        for place in range(0, len(gone), AT_A_TIME):
            rows = Treatment.objects.for_firm(self.handing.firm).filter(pk__in=gone[place : place + AT_A_TIME])
            for number in rows.order_by("number").values_list("number", flat=True):
                yield [GONE, number, "", "", ""]
