"""Bytes as text, base64url without padding (RFC 4648, section 5)."""

import base64
import binascii


def text_of(raw: bytes) -> str:
    return base64.urlsafe_b64encode(raw).decode().rstrip("=")


def bytes_of(text: object) -> bytes:
    """The bytes of such a text; only the one way to write them is taken. Raises ValueError."""
    if not isinstance(text, str):
        raise ValueError("expected text")
    try:
        decoded = base64.b64decode(text + "=" * (-len(text) % 4), altchars=b"-_", validate=True)
    except (binascii.Error, ValueError) as error:
        raise ValueError("expected base64url") from error
    if text_of(decoded) != text:
        raise ValueError("expected base64url without padding")
    return decoded
