"""What a record sheet is made from: a record file with its signatures, or a mere document."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from records.document.canonical import digest_of
from records.document.context import CONTEXT_BOUNDS
from records.document.entry import Entry, Erased, SupersededBy
from records.document.faults import DocumentFaults, Fault
from records.document.follow_up import FollowUp, Signature
from records.document.json_text import load
from records.document.reader import read, read_as
from records.document.record_file import RecordFile, is_record_file, read_record_file
from records.document.types import TreatmentDocument


@dataclass(frozen=True)
class SignedAs:
    """That the sheet will be signed as a file, and who vouches for the certificate; empty: it is self-made."""

    issuer: str = ""


@dataclass(frozen=True)
class Source:
    """A document, and what signing added: `digest` is the record's if `signed`, else the document's.

    `withheld` names the sections that this copy leaves out, with the digests that bind them; `verified`
    says whether the signatures were verified with keys that came with the record; `entry` and
    `superseded_by` are what the server added, `erased` what it has no more. These are not signed: `at_its_word`
    is true where the file came from elsewhere, so that the sheet says so.
    """

    document: TreatmentDocument
    digest: str
    signed: bool = False
    signatures: tuple[Signature, ...] = ()
    withheld: Mapping[str, str] = field(default_factory=dict)
    follow_ups: tuple[FollowUp, ...] = ()
    verified: bool = False
    entry: Entry = field(default_factory=Entry)
    superseded_by: SupersededBy | None = None
    erased: Erased | None = None
    at_its_word: bool = False

    @property
    def is_void(self) -> bool:
        """Whether this version only says that the record does not hold."""
        return self.entry.kind == "void" or any(one.meaning == "void" for one in self.signatures)

    @property
    def void_later(self) -> bool:
        """Whether a later version says that the record does not hold."""
        return self.superseded_by is not None and self.superseded_by.kind == "void"


def read_source(data: bytes | str | dict[str, Any]) -> Source:
    """The source of a sheet, from JSON text or a parsed object.

    Raises DocumentFaults, also for a section that is not the one signed.
    """
    value = load(data, CONTEXT_BOUNDS)
    if is_record_file(value):
        return source_of(read_record_file(data))
    document = read(data)
    return Source(document, digest_of(document))


def source_of(file: RecordFile) -> Source:
    """The source in a record file that was read. Raises DocumentFaults for one that nobody signed."""
    if not file.signatures:
        raise DocumentFaults([Fault("record.signatures", "signed/not_signed")])
    signatures = tuple(
        read_as(Signature, signature, lambda *_: [], f"record.signatures[{place}]")
        for place, signature in enumerate(file.signatures)
    )
    return Source(
        document=file.document,
        digest=file.digest,
        signed=True,
        signatures=signatures,
        withheld=file.withheld,
        follow_ups=tuple(file.follow_ups),
        verified=file.verified,
        entry=file.entry,
        superseded_by=file.superseded_by,
        erased=file.erased,
    )
