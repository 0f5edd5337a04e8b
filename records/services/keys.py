"""A firm's signing key: the private half in a file that only this user can read, the public half in a row."""

from pathlib import Path

from cryptography.exceptions import UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)

from records.document.signatures import key_digest
from records.models import AuditEntry, Firm, SigningKey, User
from records.services.audit import change, note
from records.services.key_files import key_file, write_key


class SigningKeyError(RuntimeError):
    """The private half of the firm's key can't be used, so nothing was signed; the message says why."""


def signing_key(firm: Firm) -> tuple[SigningKey, Ed25519PrivateKey]:
    """The firm's key, made at the first need. Call it in a transaction that holds the firm's row.

    Raises SigningKeyError.
    """
    row = key_in_force(firm)
    if row is not None:
        return row, _private_half(row)
    return new_key(firm)


def key_in_force(firm: Firm) -> SigningKey | None:
    """The key that no other has replaced; None before the first signature."""
    return SigningKey.objects.for_firm(firm).filter(replaced=None).order_by("-made_at").first()


def in_force_digest(firm: Firm) -> str:
    """The digest of the key in force; empty where there is none yet."""
    row = key_in_force(firm)
    return row.digest if row else ""


def can_sign(firm: Firm) -> bool:
    """Whether the private half of the firm's key is here, or none was made yet."""
    row = key_in_force(firm)
    try:
        return row is None or bool(_private_half(row))
    except SigningKeyError:
        return False


def new_key(firm: Firm, by: User | None = None) -> tuple[SigningKey, Ed25519PrivateKey]:
    """A key that is made and kept; what it replaces is for its caller to enter in the log."""
    private = Ed25519PrivateKey.generate()
    digest = key_digest(private.public_key())
    pem = private.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    write_key(key_file(digest), pem)
    public = private.public_key().public_bytes_raw()
    row = SigningKey.objects.create(firm=firm, digest=digest, public=public)
    note(AuditEntry.Kind.CREATED, row, firm=firm, by=by, changes=[change("digest", None, digest)])
    return row, private


def _private_half(row: SigningKey) -> Ed25519PrivateKey:
    path = key_file(row.digest)
    private = _read(path)
    if key_digest(private.public_key()) != row.digest:
        raise SigningKeyError(f"the signing key {path} is another key; put the firm's back from a backup")
    return private


def _read(path: Path) -> Ed25519PrivateKey:
    try:
        key = load_pem_private_key(path.read_bytes(), password=None)
    except FileNotFoundError as error:
        raise SigningKeyError(f"the signing key {path} is gone; put it back from a backup") from error
    except OSError as error:
        raise SigningKeyError(f"the signing key {path} can't be read: {error.strerror}") from error
    except (ValueError, TypeError, UnsupportedAlgorithm) as error:
        raise SigningKeyError(f"the signing key {path} is damaged; put it back from a backup") from error
    if not isinstance(key, Ed25519PrivateKey):
        raise SigningKeyError(f"the signing key {path} is of another kind; put it back from a backup")
    return key
