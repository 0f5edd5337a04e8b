"""What stands in columns beside signed bytes, where pages and lists read it, set against what was signed."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from records.log_rows import RecordEntry
from records.models import SignedFollowUp, SignedRecord, Treatment
from shared.times import read_time

Json = Mapping[str, Any]
Other = tuple[str, object, object]
"""Which member, as what it is kept, as what it was signed."""

_State, _Kind = Treatment.State, SignedRecord.Kind
_STATES = {
    _Kind.SIGNED.value: (_State.SIGNED.value, _State.CORRECTING.value),
    _Kind.CORRECTED.value: (_State.CORRECTED.value, _State.CORRECTING.value),
    _Kind.VOID.value: (_State.VOID.value,),
}
_OF_RECORD = ("id", "number", "version", "reason", "kind", "key", "replaces")


def record_otherwise(row: RecordEntry, stated: Json, replaces: str | None) -> Iterable[Other]:
    """The columns of a signed record that its bytes do not say; `replaces` is the digest that they do."""
    of = stated["record"].get
    kept = (str(row.treatment), row.number, row.version, row.reason, row.kind, row.key, row.replaces)
    first = stated["signatures"][0]
    signed = (
        of("id"), of("number"), of("version"), of("reason") or "", first["meaning"], first["key"], replaces,
    )  # fmt: skip
    if kept == signed:
        return ()
    return [other for other in zip(_OF_RECORD, kept, signed, strict=True) if other[1] != other[2]]


def follow_up_otherwise(row: SignedFollowUp, stated: Json) -> Iterator[Other]:
    """The columns of a follow-up that its bytes do not say."""
    pairs = {name: (row.follow_up.get(name), stated.get(name)) for name in sorted({*row.follow_up, *stated})}
    pairs |= {"kind": (row.kind, stated["kind"]), "key": (row.key.digest, stated["signatures"][0]["key"])}
    yield from _unlike(pairs)
    if row.at != read_time(stated["at"]):
        yield "at", row.at.isoformat(), stated["at"]


def state_otherwise(newest: RecordEntry) -> Iterable[Other]:
    """The state of a treatment that its newest signed version does not give."""
    if newest.state in _STATES.get(newest.kind, ()):
        return ()
    return [("state", newest.state, newest.kind)]


def _unlike(pairs: Mapping[str, tuple[object, object]]) -> Iterator[Other]:
    for member, (kept, signed) in pairs.items():
        if kept != signed:
            yield member, kept, signed
