"""What lies around a firm's log of things that the log does not have: its end was cut off, or a row moved."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import islice

from django.db.models import Exists, OuterRef

from records.document.faults import Fault
from records.log_found import Broken
from records.models import AuditEntry, Firm, LogEntry, LogNode, ProofAddress, SignedRecord, Treatment
from records.models.treatments import NEVER_SIGNED

_SIGNED = (AuditEntry.Kind.SIGNED, AuditEntry.Kind.VOIDED, AuditEntry.Kind.FOLLOWED_UP)
AT_A_TIME = 500
WAITED = timedelta(minutes=1)


def left_over(firm: Firm, size: int, latest: datetime | None) -> Iterator[Broken]:
    """What tells of more than the `size` entries, of which the newest came in at `latest`."""
    yield from _nodes(firm, size)
    yield from _treatments(firm)
    yield from _addresses(firm)
    yield from _noted(firm, latest)


def _nodes(firm: Firm, size: int) -> Iterator[Broken]:
    """Kept hashes of full subtrees that end beyond the log."""
    rows, top = LogNode.objects.for_firm(firm), size.bit_length()
    beyond = [rows.filter(level__gte=max(top, 1))]
    beyond += [rows.filter(level=level, place__gte=size >> level) for level in range(1, top)]
    if any(found.exists() for found in beyond):
        yield Broken("", Fault("", "log/node_beyond", {"entries": str(size)}))


def _treatments(firm: Firm) -> Iterator[Broken]:
    """Treatments that say to be signed, of which this firm has nothing signed."""
    records = SignedRecord.objects.for_firm(firm).filter(treatment=OuterRef("pk"))
    rows = Treatment.objects.for_firm(firm).exclude(state__in=NEVER_SIGNED)
    for number, state in rows.filter(~Exists(records)).values_list("number", "state").iterator():
        yield Broken(number, Fault("", "log/signed_without_record", {"state": state}))


def _addresses(firm: Firm) -> Iterator[Broken]:
    entries = LogEntry.objects.for_firm(firm).filter(record=OuterRef("record_id"))
    rows = ProofAddress.objects.for_firm(firm).filter(~Exists(entries))
    yield from (Broken("", Fault("", "log/address_without_entry")) for _row in rows.iterator())


def _noted(firm: Firm, latest: datetime | None) -> Iterator[Broken]:
    """What *who did what* says was signed since the newest entry came in: without a cut, just that entry.

    A follow-up is noted of its record, so these are counted; one that waited for another is noted after it."""
    entries, noted = LogEntry.objects.for_firm(firm), AuditEntry.objects.for_firm(firm).filter(kind__in=_SIGNED)
    newest = entries
    if latest:
        noted, newest = noted.filter(at__gte=latest), entries.filter(received_at__gte=latest - WAITED)
    followed = newest.filter(follow_up__isnull=False).count()
    rows = noted.order_by("at").values_list("kind", "thing_id", "thing_name", "at").iterator()
    while batch := list(islice(rows, AT_A_TIME)):
        records = [thing for kind, thing, *_of_it in batch if kind != AuditEntry.Kind.FOLLOWED_UP]
        found = entries.filter(record__in=records).values_list("record_id", flat=True)
        there = {str(pk) for pk in found}
        for kind, thing, name, at in batch:
            is_there = thing in there
            if kind == AuditEntry.Kind.FOLLOWED_UP:
                followed -= 1
                is_there = followed >= 0
            if not is_there:
                yield Broken(name, Fault("", "log/noted_and_gone", {"at": at.isoformat()}))
