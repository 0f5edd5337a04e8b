"""What a record sheet is made from: a record file with its signatures, or a mere document."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from records.document.canonical import digest_of
from records.document.follow_up import FollowUp
from records.document.reader import read
from records.document.types import TreatmentDocument


@dataclass(frozen=True)
class Source:
    """A document, and what signing added: `digest` is the record's if `signed`, else the document's.

    `withheld` names the sections that this copy leaves out, with the digests that bind them.
    """

    document: TreatmentDocument
    digest: str
    signed: bool = False
    signatures: tuple[Mapping[str, Any], ...] = ()
    withheld: Mapping[str, str] = field(default_factory=dict)
    follow_ups: tuple[FollowUp, ...] = ()


def read_source(file: Mapping[str, Any]) -> Source:
    """The source of a sheet. Raises DocumentFaults."""
    document = read(dict(file))
    return Source(document, digest_of(document))
