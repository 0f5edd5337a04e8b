"""Signed PDFs as a reader judges them: by pyHanko's validation, and by poppler's `pdfsig`."""

import fcntl
import os
import shutil
import subprocess
import tempfile
from io import BytesIO
from pathlib import Path
from typing import Any

from cryptography.x509 import Certificate
from pyhanko.keys.internal import translate_pyca_cryptography_cert_to_asn1
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko_certvalidator import ValidationContext

PACKAGE = "poppler-utils"
MISSING = f"No pdfsig: install {PACKAGE}, or run as root where apt-get can install it."


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
    if not shutil.which("pdfsig") and os.geteuid() == 0 and shutil.which("apt-get"):
        _install()
    if not shutil.which("pdfsig"):
        raise RuntimeError(MISSING)
    ran = subprocess.run(["pdfsig", "-nocert", str(pdf)], capture_output=True, text=True, check=False)
    return ran.stdout


def _install() -> None:
    """Debian's package, once: the test run has several processes, and the package manager lets in one."""
    with (Path(tempfile.gettempdir()) / "treatment-log-poppler.lock").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        if not shutil.which("pdfsig"):
            subprocess.run(["apt-get", "update", "-qq"], check=False)
            subprocess.run(["apt-get", "install", "-qq", "-y", PACKAGE], check=False)
