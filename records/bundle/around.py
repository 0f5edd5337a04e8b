"""What lies around the records in a bundle: the firm's certificates, and where proof pages are."""

from collections.abc import Iterator
from ssl import DER_cert_to_PEM_cert

from django.conf import settings

from records.models import Firm, PaperCertificate

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


def proof_pages() -> str:
    """The address of proof pages, but for the token of each."""
    return f"{settings.BASE_ADDRESS.rstrip('/')}/proof/"
