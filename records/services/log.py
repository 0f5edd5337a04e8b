"""Append what is signed to the firm's log, in the transaction that signs it."""

from collections.abc import Iterator

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from records.document.tree_head import tree_head
from records.log import FirmTree
from records.models import (
    Erasure,
    Firm,
    KeyChange,
    LogEntry,
    LogNode,
    SignedFollowUp,
    SignedRecord,
    TreeHead,
)
from records.tasks import queue_time_stamp
from shared import clock
from shared.merkle import completed_by, frontier, leaf_hash, root

Signed = SignedRecord | SignedFollowUp | KeyChange | Erasure
_MEMBER = {
    SignedRecord: "record",
    SignedFollowUp: "follow_up",
    KeyChange: "key_change",
    Erasure: "erasure",
}


def append(firm: Firm, signed: Signed, private: Ed25519PrivateKey) -> LogEntry:
    """The entry of a row that was just signed, with a head that covers it.

    Call it in the transaction that signs the row and holds the firm's row, so that entries of one firm come
    one after another. What was signed before there was a log comes first, in the order in which it came in.
    """
    tree = FirmTree(firm)
    size = _size(firm)
    if size == 0:
        for earlier in _signed_before(firm, signed):
            _enter(firm, earlier, size, tree)
            size += 1
    entry = _enter(firm, signed, size, tree)
    at = clock.now()
    head = tree_head(str(firm.pk), size + 1, root(size + 1, tree.full), at, private)
    TreeHead.objects.create(firm=firm, size=size + 1, head=head, made_at=at)
    queue_time_stamp(firm, at)
    return entry


def _size(firm: Firm) -> int:
    last = LogEntry.objects.for_firm(firm).order_by("-index").values_list("index", flat=True).first()
    return 0 if last is None else last + 1


def _enter(firm: Firm, signed: Signed, index: int, tree: FirmTree) -> LogEntry:
    tree.fetch(frontier(index))
    hashed = leaf_hash(bytes(signed.record))
    nodes = list(completed_by(index, hashed, tree.full))
    for level, place, found in nodes:
        tree.keep(level, place, found)
    LogNode.objects.bulk_create(
        LogNode(firm=firm, level=level, place=place, hash=found) for level, place, found in nodes[1:]
    )
    whose = {_MEMBER[type(signed)]: signed}
    return LogEntry.objects.create(firm=firm, index=index, leaf=hashed, received_at=signed.received_at, **whose)


def _signed_before(
    firm: Firm, newest: Signed
) -> Iterator[SignedRecord | SignedFollowUp]:
    rows = [*SignedRecord.objects.for_firm(firm), *SignedFollowUp.objects.for_firm(firm)]
    rows.sort(key=lambda row: (row.received_at, str(row.pk)))
    return (row for row in rows if row != newest)
