"""The canonical form of a document: null members left out, RFC 8785 bytes; and its digest."""

from typing import Any

from records.document.types import Part
from shared.canonical import canonical_bytes
from shared.digests import digest


def as_json(document: Part) -> dict[str, Any]:
    """The document (or a part of it) as JSON values, members that are null left out."""
    return document.model_dump(by_alias=True, exclude_none=True)


def canonical(document: Part) -> bytes:
    """The RFC 8785 bytes of the document; a bundle's file holds these very bytes."""
    return canonical_bytes(as_json(document))


def digest_of(document: Part) -> str:
    """`sha256:` and hex over the canonical bytes."""
    return digest(canonical(document))
