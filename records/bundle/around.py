"""What lies around the records in a bundle: the firm's certificates, time-stamps, and where proof pages are."""

from collections.abc import Iterator
from ssl import DER_cert_to_PEM_cert

from django.conf import settings

from records.bundle.entered import batched
from records.models import Firm, HeadTimeStamp, PaperCertificate
from shared.canonical import canonical_bytes

_COMPARE = """\
Fingerprint (SHA-256): {fingerprint}
Nobody has signed that this certificate is the firm's. Compare the fingerprint with the one that the firm gave
you by another way than this bundle.
Nadie ha firmado que este certificado sea de la empresa. Compare la huella con la que la empresa le dio por un
medio distinto de este paquete.
"""


def certificates_of(firm: Firm) -> Iterator[tuple[str, bytes]]:
    """All that have signed its papers, as names and bytes of files (PEM, with words before it)."""
    for row in PaperCertificate.objects.for_firm(firm).order_by("fingerprint"):
        said = _COMPARE.format(fingerprint=row.fingerprint) + DER_cert_to_PEM_cert(bytes(row.certificate))
        yield f"certificates/{row.fingerprint.removeprefix('sha256:')}.pem", said.encode()


def time_stamps_of(firm: Firm, sizes: list[int]) -> Iterator[tuple[str, bytes]]:
    """Of each head of such a size that has one: the bytes that it is over, and its token."""
    for some in batched(sizes):
        stamps = HeadTimeStamp.objects.for_firm(firm).filter(head__size__in=some).select_related("head")
        for stamp in stamps:
            yield f"time-stamps/{stamp.head.size}.json", canonical_bytes(stamp.head.head)
            yield f"time-stamps/{stamp.head.size}.tst", bytes(stamp.token)


def proof_pages() -> str:
    """The address of proof pages, but for the token of each."""
    return f"{settings.BASE_ADDRESS.rstrip('/')}/proof/"
