"""Signed PDFs as a reader judges them: by pyHanko's validation, and by poppler's `pdfsig`."""

import subprocess
from io import BytesIO
from pathlib import Path
from typing import Any

from cryptography.x509 import Certificate
from pyhanko.keys.internal import translate_pyca_cryptography_cert_to_asn1
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko_certvalidator import ValidationContext

from tests.debian import program


def judged(pdf: bytes, trusted: Certificate, tsa: Certificate | None = None) -> Any:
    """pyHanko's status of the one signature, with these certificates as the only roots."""
    (signature,) = PdfFileReader(BytesIO(pdf)).embedded_signatures
    of_times = [translate_pyca_cryptography_cert_to_asn1(tsa)] if tsa else []
    return validate_pdf_signature(
        signature,
        ValidationContext(trust_roots=[translate_pyca_cryptography_cert_to_asn1(trusted)]),
        ts_validation_context=ValidationContext(trust_roots=of_times),
    )


def said_by_pdfsig(pdf: Path) -> str:
    """What poppler says of the file's signatures. Raises RuntimeError where there is no poppler."""
    command = [program("pdfsig", package="poppler-utils"), "-nocert", str(pdf)]
    return subprocess.run(command, capture_output=True, text=True, check=False).stdout
