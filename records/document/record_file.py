"""The record file, `record-file/1`: a signed record with its sections and salts, as it is handed around."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from records.document.canonical import as_json
from records.document.context import CONTEXT_BOUNDS
from records.document.faults import DocumentFaults, Fault
from records.document.follow_up import FollowUp
from records.document.json_text import load
from records.document.kind import shown
from records.document.reader import moved, read, read_as
from records.document.signed_record import Verification, broken_sections, odd_members, record_digest, verify
from records.document.types import DOCUMENT_SCHEMA, TreatmentDocument
from shared.canonical import NotCanonicalError

SCHEMA = "record-file/1"
_SHAPE: dict[str, type] = {
    "schema": str, "record": dict, "sections": dict, "salts": dict, "check": dict, "follow_ups": list
}  # fmt: skip
_NEEDED = ("schema", "record", "sections", "salts")


@dataclass(frozen=True)
class RecordFile:
    """A record file that was read: its sections are those that the record binds.

    `record` is the signed record as it came, `document` what it states (a withheld section is left out),
    `check` the stored check, opaque here. Whether the signatures hold is for `verified_by` to say.
    """

    record: dict[str, Any]
    document: TreatmentDocument
    sections: dict[str, Any]
    salts: dict[str, str]
    check: dict[str, Any] | None
    follow_ups: list[FollowUp]

    @property
    def digest(self) -> str:
        """The record's digest."""
        return record_digest(self.record)

    @property
    def signatures(self) -> list[dict[str, Any]]:
        """The signatures, as they stand in the record."""
        return list(self.record.get("signatures") or [])

    @property
    def withheld(self) -> dict[str, str]:
        """The sections that this copy leaves out, each with the digest that binds it."""
        bound = self.record["sections"]
        return {name: value for name, value in bound.items() if name not in self.sections}

    def verified_by(self, public_keys: Ed25519PublicKey | Iterable[Ed25519PublicKey]) -> Verification:
        """Verify the record and its sections against the keys that may have signed it."""
        return verify(self.record, self.sections, self.salts, public_keys)


def record_file(
    record: Mapping[str, Any],
    sections: Mapping[str, Any],
    salts: Mapping[str, str],
    check: Mapping[str, Any] | None = None,
    follow_ups: Sequence[FollowUp] = (),
) -> dict[str, Any]:
    """A record file; a section that is not among `sections` is withheld, and its salt with it."""
    file = {
        "schema": SCHEMA,
        "record": dict(record),
        "sections": dict(sections),
        "salts": {name: salt for name, salt in salts.items() if name in sections},
        "follow_ups": [as_json(follow_up) for follow_up in follow_ups],
    }
    return {**file, "check": dict(check)} if check is not None else file


def is_record_file(value: object) -> bool:
    """Whether a JSON object says that it is a record file (and not a mere document)."""
    return isinstance(value, dict) and value.get("schema") == SCHEMA


def read_record_file(data: bytes | str | dict[str, Any]) -> RecordFile:
    """Read a record file strictly. A section that is not the one signed is a fault. Raises DocumentFaults."""
    file = _shaped(load(data, CONTEXT_BOUNDS))
    record, sections, salts = file["record"], file["sections"], file["salts"]
    faults = [moved(fault, "record") for fault in odd_members(record)]
    if not faults:
        faults = broken_sections(record["sections"], sections, salts)
    try:
        record_digest(record)
    except NotCanonicalError as error:
        faults.append(Fault("record", "signed/not_canonical", {"got": str(error)}))
    if faults:
        raise DocumentFaults(faults)
    follow_ups = [
        read_as(FollowUp, follow_up, lambda *_: [], f"follow_ups[{index}]")
        for index, follow_up in enumerate(file.get("follow_ups") or [])
    ]
    return RecordFile(record, _document(record, sections), sections, salts, file.get("check"), follow_ups)


def _document(record: dict[str, Any], sections: dict[str, Any]) -> TreatmentDocument:
    try:
        return read({"schema": DOCUMENT_SCHEMA, **sections, "record": record["record"]})
    except DocumentFaults as error:
        raise DocumentFaults([moved(fault, _holder(fault.path)) for fault in error.faults]) from None


def _holder(path: str) -> str:
    return "record" if path.partition(".")[0] == "record" else "sections"


def _shaped(file: object) -> dict[str, Any]:
    if not isinstance(file, dict):
        blanks = {"allowed": ", ".join(_SHAPE), "got": shown(file)}
        raise DocumentFaults([Fault("", "document/not_an_object", blanks)])
    allowed = ", ".join(_SHAPE)
    faults = [
        Fault(name, "document/unknown_member", {"allowed": allowed}) for name in file if name not in _SHAPE
    ]
    faults += [Fault(name, "document/missing") for name in _NEEDED if file.get(name) is None]
    for name, kind in _SHAPE.items():
        if file.get(name) is not None and not isinstance(file[name], kind):
            faults.append(Fault(name, "signed/wrong_shape", {"got": shown(file[name])}))
    if file.get("schema") not in (None, SCHEMA):
        blanks = {"expected": shown(SCHEMA), "got": shown(file["schema"])}
        faults.append(Fault("schema", "document/not_this_text", blanks))
    if faults:
        raise DocumentFaults(faults)
    return file
