"""What stands in columns beside signed bytes, where pages and lists read it, set against what was signed."""

from collections.abc import Iterator, Mapping
from typing import Any

from records.models import SignedFollowUp, SignedRecord, Treatment
from shared.times import read_time

Json = Mapping[str, Any]
Other = tuple[str, object, object]
"""Which member, as what it is kept, as what it was signed."""

_VOID, _NOT_SIGNED = Treatment.State.VOID, Treatment.State.DRAFT


def record_otherwise(row: SignedRecord, stated: Json) -> Iterator[Other]:
    """The columns of a signed record that its bytes do not say."""
    named = stated["record"]
    pairs = {
        "id": (str(row.treatment_id), named.get("id")),
        "number": (row.treatment.number, named.get("number")),
        "version": (row.version, named.get("version")),
        "reason": (row.reason, named.get("reason") or ""),
        "kind": (row.kind, stated["signatures"][0]["meaning"]),
    }
    return _unlike(pairs)


def follow_up_otherwise(row: SignedFollowUp, stated: Json) -> Iterator[Other]:
    """The columns of a follow-up that its bytes do not say."""
    pairs = {name: (row.follow_up.get(name), stated.get(name)) for name in sorted({*row.follow_up, *stated})}
    yield from _unlike(pairs | {"kind": (row.kind, stated["kind"])})
    if row.at != read_time(stated["at"]):
        yield "at", row.at.isoformat(), stated["at"]


def state_otherwise(newest: SignedRecord) -> Iterator[Other]:
    """The state of a treatment that its newest signed version does not give: void if and only if that is."""
    state = newest.treatment.state
    if state == _NOT_SIGNED or (state == _VOID) != (newest.kind == SignedRecord.Kind.VOID):
        yield "state", state, newest.kind


def _unlike(pairs: Mapping[str, tuple[object, object]]) -> Iterator[Other]:
    for member, (kept, signed) in pairs.items():
        if kept != signed:
            yield member, kept, signed
