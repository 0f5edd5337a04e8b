"""Where a firm's log has what goes into a record file."""

from collections.abc import Sequence
from typing import Any

from django.db.models import Q

from records.log import FirmTree
from records.models import KeyChange, LogEntry, SignedFollowUp, SignedRecord, TreeHead
from shared.merkle import inclusion_proof

Json = dict[str, Any]


def places_of(
    record: SignedRecord, follow_ups: Sequence[SignedFollowUp], changes: Sequence[KeyChange]
) -> Json | None:
    """The newest head and the proof of each under it; nothing where one of them is in no head yet."""
    firm = record.firm
    ours = Q(record=record) | Q(follow_up__in=follow_ups) | Q(key_change__in=changes)
    rows = LogEntry.objects.for_firm(firm).filter(ours).select_related("record", "follow_up", "key_change")
    entries = list(rows.order_by("index"))
    head = TreeHead.objects.for_firm(firm).order_by("-size").first()
    whole = len(entries) == 1 + len(follow_ups) + len(changes)
    if head is None or not whole or entries[-1].index >= head.size:
        return None
    size = head.size
    proofs = FirmTree(firm).read(lambda full: [inclusion_proof(one.index, size, full) for one in entries])
    return {
        "head": head.head,
        "entries": [
            {"digest": entry.signed.digest, "index": entry.index, "proof": [part.hex() for part in proof]}
            for entry, proof in zip(entries, proofs, strict=True)
        ],
    }
