"""The firm's log and the public halves of its keys, as files that need no service to be read."""

from collections.abc import Iterator
from typing import Any

from records.document.signatures import public_key_text
from records.leaving.values import json_line
from records.log_rows import LogRows, LostEntry, as_bytes
from records.models import Firm, HeadTimeStamp, SigningKey

Json = dict[str, Any]


def entries_of(firm: Firm) -> Iterator[bytes]:
    """Each entry with the very text that was signed: its leaf is the SHA-256 of a zero byte and that text."""
    for entry in LogRows(firm).entries():
        stated: Json = {
            "index": entry.index,
            "leaf": as_bytes(entry.leaf).hex(),
            "received_at": entry.received_at,
        }
        if not isinstance(entry, LostEntry):
            signed = as_bytes(entry.data).decode(errors="replace")
            stated |= {"name": entry.name, "digest": entry.digest, "signed": signed}
        yield json_line(stated)


def heads_of(firm: Firm) -> Iterator[bytes]:
    """Each signed head, with its time-stamp where it has one."""
    stamps = dict(HeadTimeStamp.objects.for_firm(firm).values_list("head_id", "token").iterator())
    for head in LogRows(firm).heads():
        token = stamps.get(head.pk)
        yield json_line({"head": head.head, **({"time_stamp": bytes(token)} if token else {})})


def keys_of(firm: Firm) -> Iterator[bytes]:
    """The public halves, the oldest first."""
    for key in SigningKey.objects.for_firm(firm).order_by("made_at"):
        public = public_key_text(bytes(key.public))
        yield json_line({"digest": key.digest, "public": public, "made_at": key.made_at})
