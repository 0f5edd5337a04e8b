"""Certificates that sign papers: made here with a key of their own, or read from a file that a firm brings."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric.ec import (
    SECP256R1,
    EllipticCurvePrivateKey,
    generate_private_key,
)
from cryptography.hazmat.primitives.asymmetric.rsa import RSAPrivateKey
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from cryptography.hazmat.primitives.serialization.pkcs12 import load_pkcs12
from cryptography.x509.oid import NameOID

from shared.digests import named

PrivateKey = EllipticCurvePrivateKey | RSAPrivateKey
VALID_FOR = timedelta(days=30 * 365)
LONGEST_NAME = 64
"""Of a common name (RFC 5280, appendix A.1, ub-common-name; here in bytes, as the library counts)."""


class CertificateError(RuntimeError):
    """A certificate or its private key can't be used; the message says which file and why."""


@dataclass(frozen=True)
class PaperKey:
    """What signs a paper: a certificate, its private key, and the certificates that vouch for it."""

    certificate: x509.Certificate
    private: PrivateKey
    chain: tuple[x509.Certificate, ...] = ()

    @property
    def fingerprint(self) -> str:
        return named(self.certificate.fingerprint(SHA256()))

    @property
    def is_self_made(self) -> bool:
        """Whether nobody but its holder vouches for it."""
        return self.certificate.issuer == self.certificate.subject

    @property
    def issuer(self) -> str:
        """Who vouches for it, by the shortest name that it gives."""
        names = self.certificate.issuer.get_attributes_for_oid(NameOID.COMMON_NAME)
        return str(names[0].value) if names else self.certificate.issuer.rfc4514_string()

    def holds_at(self, moment: datetime) -> bool:
        """Whether the moment lies in the certificate's days."""
        return self.certificate.not_valid_before_utc <= moment <= self.certificate.not_valid_after_utc

    def as_pem(self) -> bytes:
        """Private key and certificate, for a file that only this service's user can read."""
        private = self.private.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
        return private + self.certificate.public_bytes(Encoding.PEM)


def subject_of(name: str) -> x509.Name:
    """The subject of a certificate that is made for a firm of this name."""
    cut = name.encode()[:LONGEST_NAME].decode(errors="ignore")
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, cut)])


def make_certificate(name: str, now: datetime) -> PaperKey:
    """A certificate that its holder, a firm of this name, has made itself: ECDSA over P-256."""
    private = generate_private_key(SECP256R1())
    subject = subject_of(name)
    signs_alone = x509.KeyUsage(True, True, False, False, False, False, False, False, False)
    builder = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(private.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now.replace(microsecond=0))
        .not_valid_after(now.replace(microsecond=0) + VALID_FOR)
        .add_extension(signs_alone, critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(private.public_key()), critical=False)
    )
    return PaperKey(builder.sign(private, SHA256()), private)


def read_certificate(path: Path, password: str = "") -> PaperKey:
    """The certificate and key in a file: PKCS#12, or PEM with both. Raises CertificateError."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise CertificateError(f"the certificate {path} can't be read: {error.strerror}") from error
    secret = password.encode() or None
    try:
        private, certificates = _of_pem(data, secret) if b"-----BEGIN" in data else _of_pkcs12(data, secret)
    except (ValueError, TypeError, UnsupportedAlgorithm) as error:
        raise CertificateError(
            f"the certificate {path} is neither PKCS#12 nor PEM with certificate and private key, "
            "or its password is another"
        ) from error
    return _fitting(path, private, certificates)


def _of_pem(data: bytes, secret: bytes | None) -> tuple[object, list[x509.Certificate]]:
    encrypted = b"ENCRYPTED" in data
    return load_pem_private_key(data, secret if encrypted else None), x509.load_pem_x509_certificates(data)


def _of_pkcs12(data: bytes, secret: bytes | None) -> tuple[object, list[x509.Certificate]]:
    found = load_pkcs12(data, secret)
    held = [found.cert, *found.additional_certs]
    return found.key, [one.certificate for one in held if one is not None]


def _fitting(path: Path, private: object, certificates: list[x509.Certificate]) -> PaperKey:
    if not isinstance(private, EllipticCurvePrivateKey | RSAPrivateKey):
        raise CertificateError(f"the private key in {path} is neither of an elliptic curve nor RSA")
    own = next((one for one in certificates if one.public_key() == private.public_key()), None)
    if own is None:
        raise CertificateError(f"no certificate in {path} is of the private key in it")
    if not _may_sign(own):
        raise CertificateError(f"the certificate in {path} is not for signatures")
    return PaperKey(own, private, tuple(one for one in certificates if one != own))


def _may_sign(certificate: x509.Certificate) -> bool:
    try:
        usage = certificate.extensions.get_extension_for_class(x509.KeyUsage).value
    except x509.ExtensionNotFound:
        return True
    return usage.digital_signature or usage.content_commitment
