"""The record file, `record-file/1`: a signed record with its sections and salts, as it is handed around.

Beside them it may carry the stored check, the follow-ups, what its signer sealed on a device (`seal`), the
firm's public keys by digest (`keys`) and how they followed one another (`key_changes`), where the firm's log
has all of these (`log`), what the server added (`entry`) and, when it is handed out again later, the newest
version (`superseded_by`) and which sections were `erased` after the record's term.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from records.document.context import CONTEXT_BOUNDS
from records.document.entry import Entry, Erased, SupersededBy
from records.document.faults import DocumentFaults, Fault
from records.document.follow_up import FollowUp
from records.document.json_text import load
from records.document.kind import shown
from records.document.proof import proofs_of
from records.document.reader import moved, read, read_as
from records.document.signed_record import odd_members, record_digest
from records.document.types import DOCUMENT_SCHEMA, Part, TreatmentDocument
from shared.canonical import NotCanonicalError

SCHEMA = "record-file/1"
PartOf = TypeVar("PartOf", bound=Part)
_SHAPE: dict[str, type] = {
    "schema": str, "record": dict, "sections": dict, "salts": dict, "check": dict, "follow_ups": list,
    "keys": dict, "entry": dict, "superseded_by": dict, "erased": dict, "seal": dict, "key_changes": list,
    "log": dict,
}  # fmt: skip
_NEEDED = ("schema", "record", "sections", "salts")


@dataclass(frozen=True)
class RecordFile:
    """A record file that was read, and in which nothing is wrong that could be verified.

    `record` is the signed record as it came, `document` what it states (a withheld section is left out),
    `check` the stored check, opaque here. `verified` says whether the file brought keys, so that signatures
    were verified; whose keys they are is for the reader to compare.
    """

    record: dict[str, Any]
    document: TreatmentDocument
    sections: dict[str, Any]
    check: dict[str, Any] | None
    follow_ups: list[FollowUp]
    entry: Entry
    superseded_by: SupersededBy | None
    verified: bool
    erased: Erased | None = None

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


def record_file(
    record: Mapping[str, Any],
    sections: Mapping[str, Any],
    salts: Mapping[str, str],
    follow_ups: Sequence[Mapping[str, Any]] = (),
    key_changes: Sequence[Mapping[str, Any]] = (),
    **beside: Mapping[str, Any] | None,
) -> dict[str, Any]:
    """A record file; a section that is not among `sections` is withheld, and its salt with it.

    `key_changes` say how the firm's keys follow one another. `beside` may have `check`, `keys` (base64url raw
    public key by digest), `entry`, `superseded_by`, `erased`, `seal` and `log` (`document/places.py`).
    """
    file = {
        "schema": SCHEMA,
        "record": dict(record),
        "sections": dict(sections),
        "salts": {name: salt for name, salt in salts.items() if name in sections},
        "follow_ups": [dict(follow_up) for follow_up in follow_ups],
    }
    if key_changes:
        file["key_changes"] = [dict(change) for change in key_changes]
    return file | {name: dict(value) for name, value in beside.items() if value is not None}


def is_record_file(value: object) -> bool:
    """Whether a JSON object says that it is a record file (and not a mere document)."""
    return isinstance(value, dict) and value.get("schema") == SCHEMA


def read_record_file(data: bytes | str | dict[str, Any]) -> RecordFile:
    """Read a record file strictly: whatever can be verified in it must hold. Raises DocumentFaults.

    Without `keys` the signatures cannot be verified, which is no fault; sections and check always are.
    """
    file = load_record_file(data)
    keyed = bool(file.get("keys"))
    wrong = [proof.fault for proof in proofs_of(file) if proof.fault]
    if faults := [fault for fault in wrong if keyed or fault.wording != "signed/no_keys"]:
        raise DocumentFaults(faults)
    return RecordFile(
        record=file["record"],
        document=_document(file["record"], file["sections"]),
        sections=file["sections"],
        check=file.get("check"),
        verified=keyed,
        **_read_parts(file),
    )


def load_record_file(data: bytes | str | dict[str, Any]) -> dict[str, Any]:
    """The parsed file, its shape read strictly and nothing verified yet. Raises DocumentFaults."""
    file = _shaped(load(data, CONTEXT_BOUNDS))
    record = file["record"]
    faults = [moved(fault, "record") for fault in odd_members(record)]
    try:
        record_digest(record)
    except NotCanonicalError as error:
        faults.append(Fault("record", "signed/not_canonical", {"got": str(error)}))
    if faults:
        raise DocumentFaults(faults)
    _read_parts(file)
    return file


def _read_parts(file: dict[str, Any]) -> dict[str, Any]:
    """Follow-ups and what the server added, as types."""
    later, erased = file.get("superseded_by"), file.get("erased")
    return {
        "follow_ups": [
            _part(FollowUp, follow_up, f"follow_ups[{index}]")
            for index, follow_up in enumerate(file.get("follow_ups") or [])
        ],
        "entry": _part(Entry, file.get("entry") or {}, "entry"),
        "superseded_by": None if later is None else _part(SupersededBy, later, "superseded_by"),
        "erased": None if erased is None else _part(Erased, erased, "erased"),
    }


def _part(kind: type[PartOf], value: object, path: str) -> PartOf:
    return read_as(kind, value, lambda *_: [], path)


def _document(record: dict[str, Any], sections: dict[str, Any]) -> TreatmentDocument:
    try:
        return read({"schema": DOCUMENT_SCHEMA, **sections, "record": record["record"]})
    except DocumentFaults as error:
        raise DocumentFaults([moved(fault, _holder(fault.path)) for fault in error.faults]) from None


def _holder(path: str) -> str:
    return "record" if path.partition(".")[0] == "record" else "sections"


def _shaped(file: object) -> dict[str, Any]:
    allowed = ", ".join(_SHAPE)
    if not isinstance(file, dict):
        raise DocumentFaults([Fault("", "document/not_an_object", {"allowed": allowed, "got": shown(file)})])
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
