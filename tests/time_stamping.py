"""A time-stamp authority of this machine alone: pyHanko's, behind a small web server."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from http.server import BaseHTTPRequestHandler, HTTPServer
from threading import Thread

from asn1crypto.tsp import TimeStampReq
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import rsa
from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, generate_private_key
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.x509.oid import ExtendedKeyUsageOID
from pyhanko.keys.internal import (
    translate_pyca_cryptography_cert_to_asn1,
    translate_pyca_cryptography_key_to_asn1,
)
from pyhanko.sign.timestamps import DummyTimeStamper
from pyhanko_certvalidator.registry import SimpleCertificateStore

from records.certificates import subject_of

FROM, UNTIL = datetime(2026, 1, 1, tzinfo=UTC), datetime(2126, 1, 1, tzinfo=UTC)


class LocalAuthority:
    """Answers at `address`; `root` vouches for the certificate with which it stamps. It can be made to fail."""

    def __init__(self, name: str = "Example Time") -> None:
        self.answers = True
        self.asked = 0
        self.fixed: datetime | None = None
        root_key = generate_private_key(SECP256R1())
        key = rsa.generate_private_key(65537, 2048)
        root_name = subject_of(f"{name} Root")
        self.root = _certificate(
            root_name, root_name, root_key, root_key,
            (x509.BasicConstraints(ca=True, path_length=0), True),
        )  # fmt: skip
        certificate = _certificate(
            subject_of(name), root_name, key, root_key,
            (x509.ExtendedKeyUsage([ExtendedKeyUsageOID.TIME_STAMPING]), True),
        )  # fmt: skip
        vouching = SimpleCertificateStore.from_certs([translate_pyca_cryptography_cert_to_asn1(self.root)])
        self._stamper = DummyTimeStamper(
            translate_pyca_cryptography_cert_to_asn1(certificate),
            translate_pyca_cryptography_key_to_asn1(key),
            certs_to_embed=vouching,
        )
        self.address = ""

    def answer(self, request: bytes) -> bytes:
        self.asked += 1
        self._stamper.fixed_dt = self.fixed
        return self._stamper.request_tsa_response(TimeStampReq.load(request)).dump()


def _certificate(subject, issuer, key, signer, *extensions) -> x509.Certificate:
    builder = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(FROM)
        .not_valid_after(UNTIL)
    )
    for extension, critical in extensions:
        builder = builder.add_extension(extension, critical=critical)
    return builder.sign(signer, SHA256())


@contextmanager
def serving(authority: LocalAuthority) -> Iterator[LocalAuthority]:
    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            data = self.rfile.read(int(self.headers["Content-Length"]))
            if not authority.answers:
                authority.asked += 1
                self.send_error(503)
                return
            answer = authority.answer(data)
            self.send_response(200)
            self.send_header("Content-Type", "application/timestamp-reply")
            self.end_headers()
            self.wfile.write(answer)

        def log_message(self, *_: object) -> None: ...

    server = HTTPServer(("127.0.0.1", 0), Handler)
    thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
    thread.start()
    authority.address = f"http://127.0.0.1:{server.server_port}/"
    try:
        yield authority
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
