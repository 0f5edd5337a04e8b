"""What a person sealed on a device set against what stands here: the draft as it is now, or the record."""

from typing import Any

from records.document.canonical import as_json
from records.document.faults import DocumentFaults
from records.document.reader import read
from records.models import Seal, Treatment
from records.selectors import document_of, signed_versions
from records.services.sheets import PARTS, issued_at
from records.services.to_sign import Signer, document_to_sign

Json = dict[str, Any]


def sealed_and_standing(seal: Seal) -> tuple[Json, Json] | None:
    """The document that was sealed and the one that would be signed as it now, or was signed first; None where
    one of them can't be read, or was erased."""
    try:
        sealed = as_json(read(bytes(seal.document).decode()))
        return sealed, _standing(seal, sealed)
    except (DocumentFaults, OverflowError):  # a moment of a year that there is not
        return None


def _standing(seal: Seal, sealed: Json) -> Json:
    treatment = seal.treatment
    if treatment.state != Treatment.State.DRAFT:
        return document_of(signed_versions(treatment).get(version=1))
    given_out = issued_at(treatment, sealed, seal.by, seal.proof)
    parts = {name: sealed[name] for name in PARTS if name in sealed} if given_out else None
    return as_json(document_to_sign(treatment, Signer(seal.by, seal.claimed_at), parts))
