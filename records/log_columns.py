"""What stands in columns beside signed bytes, where pages and lists read it, set against what was signed."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from records.log_rows import RecordEntry
from records.models import SignedFollowUp, SignedRecord, Treatment
from records.models.treatments import NEVER_SIGNED
from shared.times import read_time

Json = Mapping[str, Any]
Other = tuple[str, object, object]
"""Which member, as what it is kept, as what it was signed."""

_VOID = Treatment.State.VOID.value
_MADE_VOID = SignedRecord.Kind.VOID.value


_OF_RECORD = ("id", "number", "version", "reason", "kind")


def record_otherwise(row: RecordEntry, stated: Json) -> Iterable[Other]:
    """The columns of a signed record that its bytes do not say."""
    of = stated["record"].get
    kept = (str(row.treatment), row.number, row.version, row.reason, row.kind)
    meaning = stated["signatures"][0]["meaning"]
    signed = (of("id"), of("number"), of("version"), of("reason") or "", meaning)
    if kept == signed:
        return ()
    return [other for other in zip(_OF_RECORD, kept, signed, strict=True) if other[1] != other[2]]


def follow_up_otherwise(row: SignedFollowUp, stated: Json) -> Iterator[Other]:
    """The columns of a follow-up that its bytes do not say."""
    pairs = {name: (row.follow_up.get(name), stated.get(name)) for name in sorted({*row.follow_up, *stated})}
    yield from _unlike(pairs | {"kind": (row.kind, stated["kind"])})
    if row.at != read_time(stated["at"]):
        yield "at", row.at.isoformat(), stated["at"]


def state_otherwise(newest: RecordEntry) -> Iterable[Other]:
    """The state of a treatment that its newest signed version does not give: void if and only if that is."""
    state = newest.state
    if state in NEVER_SIGNED or (state == _VOID) != (newest.kind == _MADE_VOID):
        return [("state", state, newest.kind)]
    return ()


def _unlike(pairs: Mapping[str, tuple[object, object]]) -> Iterator[Other]:
    for member, (kept, signed) in pairs.items():
        if kept != signed:
            yield member, kept, signed
