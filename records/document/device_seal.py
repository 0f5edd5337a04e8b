"""What a person seals on a device where there is no signal: the statement, and the signature over it."""

from collections.abc import Mapping, Sequence
from typing import Any

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ec import (
    ECDSA,
    SECP256R1,
    EllipticCurvePublicKey,
)
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import load_der_public_key

from shared.base64url import bytes_of
from shared.canonical import canonical_bytes

SCHEMA = "seal/1"
_HALF = 32


class BadKeyError(ValueError):
    """The bytes are no public key of ECDSA over P-256."""


def statement(
    *,
    treatment: str,
    document: str,
    answers: Sequence[Mapping[str, Any]],
    by: str,
    claimed_at: str,
    device_at: str,
) -> bytes:
    """The bytes that a seal signs: that `by` stands for the document of this digest, with these reasons."""
    return canonical_bytes(
        {
            "schema": SCHEMA,
            "meaning": "signed",
            "treatment": treatment,
            "document": document,
            "answers": [dict(answer) for answer in answers],
            "by": by,
            "claimed_at": claimed_at,
            "device_at": device_at,
        }
    )


def read_device_key(der: bytes) -> EllipticCurvePublicKey:
    """The public key in a SubjectPublicKeyInfo. Raises BadKeyError."""
    try:
        key = load_der_public_key(der)
    except (ValueError, TypeError) as error:
        raise BadKeyError(str(error)) from error
    if not isinstance(key, EllipticCurvePublicKey) or not isinstance(key.curve, SECP256R1):
        raise BadKeyError("not a key of the curve P-256")
    return key


def seal_holds(public: EllipticCurvePublicKey, signed: bytes, value: object) -> bool:
    """Whether `value` (base64url, the two numbers side by side as browsers give them) is a signature of it."""
    try:
        raw = bytes_of(value)
        first, second = (int.from_bytes(half) for half in (raw[:_HALF], raw[_HALF:]))
        public.verify(encode_dss_signature(first, second), signed, ECDSA(SHA256()))
    except (InvalidSignature, ValueError):
        return False
    return len(raw) == 2 * _HALF
