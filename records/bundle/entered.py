"""What the log has of the treatments that go into a bundle, and what of them it has lost."""

from collections.abc import Iterable, Iterator
from itertools import islice
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models import Q

from records.models import Firm, LogEntry, SignedFollowUp, SignedRecord, TreeHead

AT_A_TIME = 200
LOST = -1


class Entered(NamedTuple):
    """What the log has at an index: its digest, and the id of the record where it is one."""

    index: int
    digest: str
    record: Any


def entered_in(firm: Firm, head: TreeHead, treatments: Iterable[UUID]) -> Iterator[Entered]:
    """What was signed later than the head is not in the bundle: it goes with the next one."""
    entries = LogEntry.objects.for_firm(firm).filter(index__lt=head.size)
    for some in batched(treatments):
        of_these = Q(record__treatment__in=some) | Q(follow_up__follows__treatment__in=some)
        rows = entries.filter(of_these).values_list("index", "record__digest", "follow_up__digest", "record_id")
        for index, record_digest, follow_up_digest, record in rows:
            yield Entered(index, record_digest or follow_up_digest, record)


def without_entry(firm: Firm, treatments: Iterable[UUID]) -> Iterator[Entered]:
    """What is signed and whose entry was taken out: it goes with the others, and fails its check."""
    for some in batched(treatments):
        records = SignedRecord.objects.for_firm(firm).filter(treatment__in=some, entry=None)
        yield from (Entered(LOST, digest, pk) for digest, pk in records.values_list("digest", "pk"))
        follow_ups = SignedFollowUp.objects.for_firm(firm).filter(follows__treatment__in=some, entry=None)
        yield from (Entered(LOST, digest, None) for digest in follow_ups.values_list("digest", flat=True))


def key_changes_of(firm: Firm) -> Iterable[LogEntry]:
    """Every one of the firm: how a key that signed leads to the one that is trusted."""
    entries = LogEntry.objects.for_firm(firm).filter(key_change__isnull=False).order_by("index")
    return entries.select_related("key_change")


def erasures_of(firm: Firm, treatments: Iterable[UUID]) -> Iterator[LogEntry]:
    for some in batched(treatments):
        entries = LogEntry.objects.for_firm(firm).filter(erasure__treatment__in=some).order_by("index")
        yield from entries.select_related("erasure")


def batched(ids: Iterable[Any]) -> Iterator[list[Any]]:
    """So many at a time as a database takes in one question."""
    rest = iter(ids)
    while some := list(islice(rest, AT_A_TIME)):
        yield some
