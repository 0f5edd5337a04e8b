"""What a device keeps of a treatment to make a record on it: the document, as it would be signed."""

from datetime import datetime
from typing import Any

from django.core import signing

from records.document.canonical import as_json
from records.models import Treatment, User
from records.services.to_sign import Signer, document_to_sign
from shared import clock
from shared.canonical import canonical_bytes
from shared.digests import digest

Json = dict[str, Any]
PARTS = ("firm", "customer", "site")
"""What is written from reference rows, and so may have changed by the time that a record comes in."""
_SALT = "device-sheet"
_LONGEST_OUT = 30 * 24 * 3600


def sheet_of(treatment: Treatment, user: User) -> Json:
    """The document to go on from, its revision, the paths at which something can't be read, and a proof of
    the parts that were written from reference rows."""
    document = as_json(document_to_sign(treatment, Signer(user)))
    document["timing"].pop("recorded_at", None)
    if not document["timing"]:
        del document["timing"]
    return {
        "document": document,
        "revision": treatment.revision,
        "unread": list(treatment.unread),
        "proof": signing.dumps([clock.now().isoformat(), *_named(treatment, document, user)], salt=_SALT),
    }


def issued_at(treatment: Treatment, document: Json, user: User, proof: str) -> datetime | None:
    """When a sheet of this treatment with these parts was given to this person, in the last thirty days."""
    try:
        at, *named = signing.loads(proof, salt=_SALT, max_age=_LONGEST_OUT)
    except (signing.BadSignature, TypeError, ValueError):
        return None
    return datetime.fromisoformat(at) if named == _named(treatment, document, user) else None


def _named(treatment: Treatment, document: Json, user: User) -> list[str]:
    parts = {name: document.get(name) for name in PARTS}
    return [str(treatment.pk), str(user.pk), digest(canonical_bytes(parts))]
