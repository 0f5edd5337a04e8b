"""`signed-record/1`: what signing adds to a document, and how a copy of it is verified.

Every top-level member of the document but `record` is a section, bound by its own salted digest, so that a
copy with a section withheld still verifies. `record` itself stands in the signed record. Sections and salts
travel beside it, in a record file (`record_file`).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from records.document.canonical import as_json
from records.document.faults import Fault
from records.document.kind import shown
from records.document.signatures import bytes_to_sign, judged_signatures, key_digest
from records.document.types import TreatmentDocument
from shared.canonical import NotCanonicalError, canonical_bytes
from shared.digests import digest, salted_section_digest

SCHEMA = "signed-record/1"
_MEMBERS = {"schema", "record", "sections", "answers", "check", "signatures"}

Sections = Mapping[str, Any]
Salts = Mapping[str, str]


def sections_of(document: TreatmentDocument) -> dict[str, Any]:
    """The sections of a document by name: its top-level members but `record`, without those left out."""
    return {name: section for name, section in as_json(document).items() if name != "record"}


def seal(
    document: TreatmentDocument,
    answers: Sequence[Mapping[str, Any]],
    check: Mapping[str, str] | None,
    salts: Salts,
) -> dict[str, Any]:
    """The signed record without its signatures.

    `answers` are `{rule, about, reason}`, `check` is `{digest, context_digest}`; both are kept as given.
    `salts` has for each section 128 random bits as text. Raises KeyError if a section has no salt.
    """
    digests = {
        name: salted_section_digest(name, salts[name], section)
        for name, section in sections_of(document).items()
    }
    record: dict[str, Any] = {
        "schema": SCHEMA,
        "record": as_json(document.record),
        "sections": digests,
        "answers": [dict(answer) for answer in answers],
    }
    return {**record, "check": dict(check)} if check is not None else record


def record_digest(record: Mapping[str, Any]) -> str:
    """The digest of the whole signed record, signatures and all: what names it, and the log's leaf."""
    return digest(canonical_bytes(dict(record)))


@dataclass(frozen=True)
class Verification:
    """What verifying found: `problems` by path, and the sections that the copy withholds."""

    problems: list[Fault] = field(default_factory=list)
    withheld: list[str] = field(default_factory=list)

    @property
    def holds(self) -> bool:
        """Whether the record is whole, signed, and every section that is there is the one signed."""
        return not self.problems


def verify(
    record: Mapping[str, Any],
    sections: Sections,
    salts: Salts,
    public_keys: Ed25519PublicKey | Iterable[Ed25519PublicKey],
) -> Verification:
    """Verify a signed record and the sections that came with it, against the keys that may have signed it."""
    if isinstance(public_keys, Ed25519PublicKey):
        public_keys = [public_keys]
    problems = odd_members(record)
    bound = record.get("sections")
    bound = bound if isinstance(bound, Mapping) else {}
    problems += _broken_signatures(record, {key_digest(key): key for key in public_keys})
    problems += broken_sections(bound, sections, salts)
    return Verification(problems, [name for name in bound if name not in sections])


def odd_members(record: Mapping[str, Any]) -> list[Fault]:
    """What keeps this from being a signed record at all."""
    problems = [Fault(name, "signed/unknown_member") for name in record if name not in _MEMBERS]
    if record.get("schema") != SCHEMA:
        problems.append(
            Fault(
                "schema",
                "document/not_this_text",
                {"expected": shown(SCHEMA), "got": shown(record.get("schema"))},
            )
        )
    for name in ("record", "sections"):
        if not isinstance(record.get(name), Mapping):
            problems.append(Fault(name, "signed/wrong_shape", {"got": shown(record.get(name))}))
    return problems


def _broken_signatures(record: Mapping[str, Any], keys: Mapping[str, Ed25519PublicKey]) -> list[Fault]:
    try:
        bytes_to_sign(record)
    except NotCanonicalError as error:
        return [Fault("", "signed/not_canonical", {"got": str(error)})]
    return [fault for _path, fault in judged_signatures(record, keys) if fault]


def broken_sections(bound: Mapping[str, Any], sections: Sections, salts: Salts) -> list[Fault]:
    """The sections that are not the ones whose digests are `bound`."""
    return [fault for _path, fault in judged_sections(bound, sections, salts) if fault]


def judged_sections(
    bound: Mapping[str, Any], sections: Sections, salts: Salts
) -> list[tuple[str, Fault | None]]:
    """Each section's path and what is wrong with it, if anything."""
    return [
        (f"sections.{name}", _fault_of(name, section, bound, salts)) for name, section in sections.items()
    ]


def _fault_of(name: str, section: object, bound: Mapping[str, Any], salts: Salts) -> Fault | None:
    if name not in bound:
        return Fault(f"sections.{name}", "signed/section_not_bound")
    if name not in salts:
        return Fault(f"salts.{name}", "signed/no_salt")
    if not _is_bound(name, salts[name], section, bound[name]):
        return Fault(f"sections.{name}", "signed/section_changed")
    return None


def _is_bound(name: str, salt: str, section: object, bound: object) -> bool:
    try:
        return salted_section_digest(name, salt, section) == bound
    except NotCanonicalError:
        return False
