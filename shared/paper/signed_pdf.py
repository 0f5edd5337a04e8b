"""A drawn PDF as it is handed out: with a file attached, and signed as a whole (PAdES, ETSI EN 319 142-1)."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any, Protocol

from cryptography.x509 import Certificate

FIELD = "Signature"


@dataclass(frozen=True)
class Attachment:
    """A file in the PDF: its name, its bytes, and what a reader shows of it."""

    name: str
    data: bytes
    media_type: str
    description: str


class SigningKey(Protocol):
    """A certificate, its private half, and the certificates that vouch for it, as `cryptography` knows them."""

    @property
    def certificate(self) -> Certificate: ...
    @property
    def private(self) -> Any: ...
    @property
    def chain(self) -> Sequence[Certificate]: ...


def signed_pdf(pdf: bytes, attachment: Attachment, key: SigningKey, time_stamper: Any = None) -> bytes:
    """The drawn bytes with attachment and signature after them, which is over all of it.

    Baseline level B-B; B-T with a `time_stamper` (of pyHanko's kind), and then raises what that one raises.
    """
    # A third of a second, which every command that knows the addresses would pay.
    from pyhanko.pdf_utils.embed import EmbeddedFileObject, EmbeddedFileParams, FileSpec, embed_file
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.sign.fields import SigSeedSubFilter
    from pyhanko.sign.signers import PdfSignatureMetadata, sign_pdf

    writer = IncrementalPdfFileWriter(BytesIO(pdf))
    held = EmbeddedFileObject.from_file_data(
        writer,
        data=attachment.data,
        mime_type=attachment.media_type,
        params=EmbeddedFileParams(embed_checksum=False),
    )
    embed_file(writer, FileSpec(attachment.name, embedded_data=held, description=attachment.description))
    stated = PdfSignatureMetadata(field_name=FIELD, md_algorithm="sha256", subfilter=SigSeedSubFilter.PADES)
    out = sign_pdf(writer, stated, _signer(key), timestamper=time_stamper)
    return bytes(out.getbuffer())


def _signer(key: SigningKey) -> Any:
    from pyhanko.keys.internal import (
        translate_pyca_cryptography_cert_to_asn1,
        translate_pyca_cryptography_key_to_asn1,
    )
    from pyhanko.sign.signers import SimpleSigner
    from pyhanko_certvalidator.registry import SimpleCertificateStore

    vouching = SimpleCertificateStore()
    vouching.register_multiple(translate_pyca_cryptography_cert_to_asn1(one) for one in key.chain)
    return SimpleSigner(
        signing_cert=translate_pyca_cryptography_cert_to_asn1(key.certificate),
        signing_key=translate_pyca_cryptography_key_to_asn1(key.private),
        cert_registry=vouching,
    )
