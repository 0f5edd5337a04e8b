"""The certificate that signs a firm's papers: its own where one is set, else one that is made here, once."""

import logging
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding
from django.conf import settings
from django.db import transaction

from records.certificates import CertificateError, PaperKey, make_certificate, read_certificate, subject_of
from records.models import AuditEntry, Firm, PaperCertificate
from records.services.audit import change, note
from records.services.key_files import key_file, write_key
from shared import clock

logger = logging.getLogger(__name__)


@dataclass(frozen=True)
class CertificateFacts:
    """A certificate of the firm, as it is told to people who compare it."""

    fingerprint: str
    subject: str
    issuer: str
    valid_from: datetime
    valid_until: datetime

    @property
    def is_self_made(self) -> bool:
        return self.subject == self.issuer


def paper_key(firm: Firm) -> PaperKey:
    """What signs the firm's papers now. An own certificate that can't be used is told to the machine's owner,
    and the self-made one signs instead: a record must be to be had on demand."""
    try:
        own = _own(firm)
    except CertificateError as error:
        logger.error("Papers are signed with the self-made certificate: %s", error)
        own = None
    if own:
        if not PaperCertificate.objects.for_firm(firm).filter(fingerprint=own.fingerprint).exists():
            _keep(firm, own)
        return own
    return _made_before(firm) or _make(firm)


def certificates_of(firm: Firm) -> list[CertificateFacts]:
    """All certificates that have signed papers of the firm, newest first."""
    rows = PaperCertificate.objects.for_firm(firm)
    return [_facts(row.fingerprint, x509.load_der_x509_certificate(bytes(row.certificate))) for row in rows]


def _facts(fingerprint: str, certificate: x509.Certificate) -> CertificateFacts:
    return CertificateFacts(
        fingerprint,
        certificate.subject.rfc4514_string(),
        certificate.issuer.rfc4514_string(),
        certificate.not_valid_before_utc,
        certificate.not_valid_after_utc,
    )


def _own(firm: Firm) -> PaperKey | None:
    path = settings.PDF_CERTIFICATES.get(str(firm.pk))
    if not path:
        return None
    key = read_certificate(Path(path), settings.PDF_CERTIFICATE_PASSWORD)
    if not key.holds_at(clock.now()):
        days = (
            f"{key.certificate.not_valid_before_utc:%Y-%m-%d} to {key.certificate.not_valid_after_utc:%Y-%m-%d}"
        )
        raise CertificateError(f"the certificate {path} is valid from {days}")
    return key


def _made_before(firm: Firm) -> PaperKey | None:
    """The newest one that was made here for the firm's name as it is, whose private half is here."""
    for row in PaperCertificate.objects.for_firm(firm):
        path = key_file(row.fingerprint)
        if not path.exists():
            continue
        try:
            key = read_certificate(path)
        except CertificateError as error:
            logger.error("A new certificate is made for papers: %s", error)
            continue
        if key.fingerprint == row.fingerprint and _is_still_right(key, firm):
            return key
    return None


def _is_still_right(key: PaperKey, firm: Firm) -> bool:
    return key.certificate.subject == subject_of(firm.name) and key.holds_at(clock.now())


@transaction.atomic
def _make(firm: Firm) -> PaperKey:
    locked = Firm.objects.for_firm(firm).select_for_update().get()
    if meanwhile := _made_before(locked):
        return meanwhile
    key = make_certificate(locked.name, clock.now())
    write_key(key_file(key.fingerprint), key.as_pem())
    _keep(locked, key)
    return key


@transaction.atomic
def _keep(firm: Firm, key: PaperKey) -> None:
    der = key.certificate.public_bytes(Encoding.DER)
    row, is_new = PaperCertificate.objects.for_firm(firm).get_or_create(
        fingerprint=key.fingerprint, defaults={"firm": firm, "certificate": der}
    )
    if is_new:
        changes = [change("fingerprint", None, key.fingerprint)]
        note(AuditEntry.Kind.CREATED, row, firm=firm, changes=changes)
