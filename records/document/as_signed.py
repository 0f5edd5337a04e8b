"""A document that was read strictly when it was signed, read again without a look for faults.

What is read are values made by the thousand (`shared.values`) that hold what the parts of a `TreatmentDocument`
hold under the same names: whoever only reads from a document can't tell one from the other. They are derived
from its types, the one definition; the bounds of labels' limits alone are left out. Whoever has to know whether
bytes are a document at all asks `reader.read`.
"""

from collections.abc import Collection
from functools import cache
from typing import Any, Protocol, cast

import msgspec

from records.document.limit_bounds import Bound
from records.document.measured import Measured
from records.document.members import Member, members_of
from records.document.section_lines import line_of
from records.document.types import Part, TreatmentDocument
from shared.quantities import Quantity

_DOCUMENT = members_of(TreatmentDocument)


class _Decoder(Protocol):
    def decode(self, data: bytes) -> Any: ...


def as_signed(record: bytes, lines: bytes, names: Collection[str]) -> TreatmentDocument:
    """What the signed record and these of its sections state; a section that is gone is not there.

    `record` and `lines` as they are kept. Raises ValueError for what was never signed.
    """
    stated = _decoder("record").decode(record)
    kept = {name: line_of(lines, name) for name in names}
    sections = {name: _decoder(name).decode(line)[2] for name, line in kept.items() if line is not None}
    return cast(TreatmentDocument, _type_of(TreatmentDocument)(record=stated.record, **sections))


@cache
def _decoder(name: str) -> _Decoder:
    """Of a section's line; of `record`, of the whole signed record."""
    held = _held(_DOCUMENT[name])
    if name == "record":
        return msgspec.json.Decoder(msgspec.defstruct("Signed", [("record", held)]))
    return msgspec.json.Decoder(tuple[str, str, held | None])  # type: ignore[valid-type]


@cache
def _type_of(part: type[Part]) -> Any:
    """The part as a value; None for what it does not state."""
    members = members_of(part)
    fields = [
        (_attribute(part, name), _held(member) | None, None)
        for name, member in members.items()
        if not isinstance(member.kind, Bound)
    ]
    return msgspec.defstruct(part.__name__, fields, frozen=True, gc=False)


def _attribute(part: type[Part], name: str) -> str:
    return next(own for own, field in part.model_fields.items() if name in (own, field.alias))


def _held(member: Member) -> Any:
    if member.part is not None:
        return _type_of(member.part)
    if member.item is not None:
        return list[_held(member.item)]  # type: ignore[misc]
    return Quantity if isinstance(member.kind, Measured) else str | bool | int
