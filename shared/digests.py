"""SHA-256 digests in the form that records name them: `sha256:` and 64 hexadecimal digits."""

import hashlib
from pathlib import Path

from shared.canonical import canonical_bytes


def digest(data: bytes) -> str:
    """`sha256:` and the hexadecimal SHA-256 (FIPS 180-4) of the bytes."""
    return named(hashlib.sha256(data).digest())


def file_digest(path: Path) -> str:
    """The same of a file's bytes, read piece by piece."""
    with path.open("rb") as file:
        return named(hashlib.file_digest(file, "sha256").digest())


def named(hashed: bytes) -> str:
    """The 32 bytes of a SHA-256 in that form."""
    return "sha256:" + hashed.hex()


def salted_section_digest(name: str, salt: str, section: object) -> str:
    """The digest that binds one section: over the canonical bytes of `["name", "salt", section]`.

    The salt keeps a withheld section from being guessed. Raises NotCanonicalError.
    """
    return digest(canonical_bytes([name, salt, section]))
