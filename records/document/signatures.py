"""Ed25519 signatures (RFC 8032) over canonical bytes, as `signed-record/1` and `follow-up/1` carry them."""

from collections.abc import Mapping
from typing import Any

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from records.document.faults import Fault
from shared.base64url import bytes_of, text_of
from shared.canonical import canonical_bytes
from shared.digests import digest

ALGORITHM = "Ed25519"


def key_digest(public_key: Ed25519PublicKey) -> str:
    """What a signature's `key` holds: the digest of the 32 raw bytes of the public key."""
    return digest(public_key.public_bytes_raw())


def public_key_text(raw: bytes) -> str:
    """The 32 raw bytes of a public key as a record file carries them: base64url without padding."""
    return text_of(raw)


def read_public_key(text: object) -> Ed25519PublicKey:
    """The public key in such a text. Raises ValueError."""
    return Ed25519PublicKey.from_public_bytes(bytes_of(text))


def bytes_to_sign(signed: Mapping[str, Any]) -> bytes:
    """The bytes that every signature covers: canonical, all but `signatures`."""
    return canonical_bytes({name: value for name, value in signed.items() if name != "signatures"})


def with_signature(
    signed: Mapping[str, Any],
    private_key: Ed25519PrivateKey,
    *,
    by: str,
    role: str,
    meaning: str,
    claimed_at: str,
    device_at: str | None = None,
) -> dict[str, Any]:
    """The object with one signature more: `by` a person in a `role`, what it means in words, and when the
    person says that it was made (RFC 3339) beside what the device's clock said."""
    entry: dict[str, Any] = {
        "by": by,
        "role": role,
        "meaning": meaning,
        "claimed_at": claimed_at,
        **plain_signature(signed, private_key),
    }
    if device_at is not None:
        entry["device_at"] = device_at
    return {**signed, "signatures": [*(signed.get("signatures") or []), entry]}


def plain_signature(signed: Mapping[str, Any], private_key: Ed25519PrivateKey) -> dict[str, str]:
    """Algorithm, key and value of a signature over the object."""
    return {
        "algorithm": ALGORITHM,
        "key": key_digest(private_key.public_key()),
        "value": text_of(private_key.sign(bytes_to_sign(signed))),
    }


def signature_holds(signed: Mapping[str, Any], value: object, public_key: Ed25519PublicKey) -> bool:
    """Whether the signature's `value` is one over the object by this key."""
    try:
        public_key.verify(bytes_of(value), bytes_to_sign(signed))
    except (InvalidSignature, ValueError):
        return False
    return True


def judged_signatures(
    signed: Mapping[str, Any], keys: Mapping[str, Ed25519PublicKey]
) -> list[tuple[str, Fault | None]]:
    """Each signature's path and what is wrong with it, if anything; `keys` may have signed, by digest.

    What nobody signed has one fault. `signed` must have a canonical form.
    """
    signatures = signed.get("signatures")
    if not isinstance(signatures, list) or not signatures:
        return [("signatures", Fault("signatures", "signed/not_signed"))]
    paths = (f"signatures[{index}]" for index in range(len(signatures)))
    return [(path, _fault_of(path, one, signed, keys)) for path, one in zip(paths, signatures, strict=True)]


def _fault_of(
    path: str, entry: object, signed: Mapping[str, Any], keys: Mapping[str, Ed25519PublicKey]
) -> Fault | None:
    entry = entry if isinstance(entry, Mapping) else {}
    key = keys.get(str(entry.get("key")))
    if entry.get("algorithm") != ALGORITHM:
        return Fault(f"{path}.algorithm", "signed/other_algorithm")
    if key is None:
        return Fault(f"{path}.key", "signed/unknown_key")
    if not signature_holds(signed, entry.get("value"), key):
        return Fault(f"{path}.value", "signed/broken_signature")
    return None
