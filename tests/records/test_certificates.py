"""A certificate that signs papers: made here, or read from what a firm brings."""

from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, EllipticCurvePublicKey, generate_private_key
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    Encoding,
    NoEncryption,
    PrivateFormat,
)
from cryptography.hazmat.primitives.serialization.pkcs12 import serialize_key_and_certificates

from records.certificates import CertificateError, make_certificate, read_certificate, subject_of

NOW = datetime(2026, 9, 14, 16, 0, tzinfo=UTC)
AUTHORITY = make_certificate("Example Authority", NOW)


def issued(**usage: bool):
    """A key and a certificate for it by the authority, for signatures or for what `usage` says."""
    private = generate_private_key(SECP256R1())
    uses = {"digital_signature": True} | usage
    names = (
        "digital_signature content_commitment key_encipherment data_encipherment key_agreement key_cert_sign "
        "crl_sign encipher_only decipher_only"
    )
    key_usage = x509.KeyUsage(**{name: uses.get(name, False) for name in names.split()})
    certificate = (
        x509.CertificateBuilder()
        .subject_name(subject_of("Quillfeather Exterior Care LLC"))
        .issuer_name(AUTHORITY.certificate.subject)
        .public_key(private.public_key())
        .serial_number(7)
        .not_valid_before(NOW)
        .not_valid_after(NOW + timedelta(days=365))
        .add_extension(key_usage, critical=True)
        .sign(AUTHORITY.private, SHA256())
    )
    return private, certificate


def as_pkcs12(path, private, certificate, password: bytes):
    locked = BestAvailableEncryption(password) if password else NoEncryption()
    path.write_bytes(
        serialize_key_and_certificates(None, private, certificate, [AUTHORITY.certificate], locked)
    )
    return path


def test_a_self_made_certificate_is_of_p_256_and_names_the_firm_as_both():
    key = make_certificate("Quillfeather Exterior Care", NOW)
    public = key.certificate.public_key()
    assert isinstance(public, EllipticCurvePublicKey)
    assert public.curve.name == "secp256r1"
    assert key.is_self_made
    assert key.certificate.subject == key.certificate.issuer == subject_of("Quillfeather Exterior Care")
    assert key.fingerprint == "sha256:" + key.certificate.fingerprint(SHA256()).hex()


def test_a_firm_s_name_that_is_longer_than_a_certificate_takes_is_cut():
    key = make_certificate("Q" + "ñ" * 199, NOW)
    assert key.certificate.subject.rfc4514_string() == "CN=Q" + "ñ" * 31


def test_it_holds_in_its_days_alone():
    key = make_certificate("Quillfeather Exterior Care", NOW)
    assert key.holds_at(NOW)
    assert not key.holds_at(NOW - timedelta(seconds=1))
    assert not key.holds_at(NOW + timedelta(days=31 * 365))


def test_what_was_made_here_is_read_again(tmp_path):
    key = make_certificate("Quillfeather Exterior Care", NOW)
    (tmp_path / "key.pem").write_bytes(key.as_pem())
    assert read_certificate(tmp_path / "key.pem").certificate == key.certificate


@pytest.mark.parametrize("password", ["", "a password of the firm"])
def test_pkcs_12_is_read_with_who_vouches_for_it(tmp_path, password):
    private, certificate = issued()
    key = read_certificate(as_pkcs12(tmp_path / "own.p12", private, certificate, password.encode()), password)
    assert (key.certificate, key.chain) == (certificate, (AUTHORITY.certificate,))
    assert (key.is_self_made, key.issuer) == (False, "Example Authority")


def test_pem_under_a_password_is_read(tmp_path):
    private, certificate = issued()
    locked = BestAvailableEncryption(b"a password of the firm")
    pem = private.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, locked)
    (tmp_path / "own.pem").write_bytes(certificate.public_bytes(Encoding.PEM) + pem)
    assert read_certificate(tmp_path / "own.pem", "a password of the firm").certificate == certificate


def refused(path, password: str = "") -> str:
    with pytest.raises(CertificateError) as error:
        read_certificate(path, password)
    assert str(path) in str(error.value)
    return str(error.value)


def test_each_file_that_cannot_be_used_is_refused_with_what_is_wrong(tmp_path):
    path = tmp_path / "own.p12"
    assert "No such file" in refused(path)
    path.write_bytes(b"no certificate")
    assert "neither PKCS#12 nor PEM" in refused(path)
    private, certificate = issued()
    as_pkcs12(path, private, certificate, b"a password of the firm")
    assert "its password is another" in refused(path, "another password")
    assert "its password is another" in refused(path)
    path.write_bytes(certificate.public_bytes(Encoding.PEM))
    assert "neither PKCS#12 nor PEM" in refused(path)
    path.write_bytes(make_certificate("x", NOW).as_pem().partition(b"-----BEGIN CERT")[0])
    assert "neither PKCS#12 nor PEM" in refused(path)


def test_a_certificate_of_another_key_is_refused(tmp_path):
    _private, certificate = issued()
    other = generate_private_key(SECP256R1()).private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    (tmp_path / "own.pem").write_bytes(certificate.public_bytes(Encoding.PEM) + other)
    assert "no certificate" in refused(tmp_path / "own.pem")


def test_a_key_of_a_kind_that_readers_of_pdf_seldom_know_is_refused(tmp_path):
    pem = Ed25519PrivateKey.generate().private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    (tmp_path / "own.pem").write_bytes(pem + AUTHORITY.certificate.public_bytes(Encoding.PEM))
    assert "neither of an elliptic curve nor RSA" in refused(tmp_path / "own.pem")


def test_a_certificate_that_is_not_for_signatures_is_refused(tmp_path):
    private, certificate = issued(digital_signature=False, key_agreement=True)
    assert "not for signatures" in refused(as_pkcs12(tmp_path / "own.p12", private, certificate, b""))
