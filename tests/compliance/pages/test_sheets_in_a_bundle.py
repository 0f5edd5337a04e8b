"""A record sheet in a bundle holds the record beside it, signed whole with a certificate of the bundle."""

import io
import shutil
import subprocess
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from zipfile import ZipFile

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric.rsa import generate_private_key
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding
from pyhanko.pdf_utils.generic import StreamObject
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from reportlab.pdfgen.canvas import Canvas

from compliance.services.drawn_sheets import sheets_beside
from records.bundle import verify_records
from records.bundle.writer import write_bundle
from records.certificates import PaperKey, make_certificate, subject_of
from records.models import PaperCertificate
from records.services.certificates import paper_key
from shared import clock
from shared.digests import named
from shared.paper.signed_pdf import Attachment, signed_pdf
from tests.compliance.pages.test_hand_over import checked
from tests.debian import program
from tests.pdf_signatures import said_by_pdfsig
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.records.test_bundle import add_up, change


@pytest.fixture
def bundle(signed, firm, tmp_path) -> Path:  # noqa: F811
    written = io.BytesIO()
    write_bundle(firm, [signed.pk], written, beside=sheets_beside(["en"]))
    ZipFile(written).extractall(tmp_path / "b")
    return tmp_path / "b"


def fails(folder: Path) -> list[str]:
    add_up(folder)
    code, said = checked(folder)
    assert code == 1, said
    return [line.removeprefix("FAILS     ") for line in said.splitlines() if line.startswith("FAILS")]


def test_a_sheet_holds_the_record_beside_it_and_what_is_not_checked_is_said(bundle, signed, firm):  # noqa: F811
    code, said = checked(bundle)
    assert code == 0, said
    sheet, row = f"sheets/{signed.number}-v1-en.pdf", PaperCertificate.objects.for_firm(firm).get()
    assert f"holds     {sheet}, the data in it, byte for byte the record in this bundle" in said
    assert f"holds     {sheet}, signed as a whole with the certificate {row.fingerprint}" in said
    asks = "that they say what the data say was not looked at: read them beside the record"
    assert f"note      {sheet}, its printed pages: {asks}" in said
    (path,) = bundle.glob("certificates/*.pem")
    certificate = x509.load_pem_x509_certificate(path.read_bytes())
    assert named(certificate.fingerprint(SHA256())) == row.fingerprint
    assert f"Fingerprint (SHA-256): {row.fingerprint}" in path.read_text()
    assert f"note      certificates/{path.name}: {row.fingerprint}, nobody signed that it is the firm's" in said


def test_a_sheet_of_another_record_is_named(bundle, signed, firm):  # noqa: F811
    row = PaperCertificate.objects.for_firm(firm).get()
    sheet = bundle / f"sheets/{signed.number}-v1-en.pdf"
    shutil.copy(sheet, bundle / "sheets/2026-9999-v1-en.pdf")
    change(bundle, f"records/{signed.number}-v1.json", lambda file: file["entry"].update(proof="0" * 32))
    for path in bundle.glob("certificates/*"):
        path.unlink()
    data = "the data in it, byte for byte the record in this bundle"
    assert fails(bundle) == [
        f"sheets/{sheet.name}, {data}: they are not the record in this bundle",
        f"sheets/{sheet.name}, its signature: the certificate that signed it is none of those in this bundle "
        f"({row.fingerprint})",
        "sheets/2026-9999-v1-en.pdf: the record that it is of is not in this bundle",
    ]
    sheet.write_bytes(sheet.read_bytes().replace(b"/EmbeddedFile\n", b"/EmbeddedFilo\n"))
    assert any(line.startswith(f"sheets/{sheet.name}, the data in it") for line in fails(bundle))


def forged_by(bundle: Path, key: PaperKey) -> None:
    """Put a page of one's own with the genuine data in the place of a sheet, signed with this key."""
    (sheet,) = bundle.glob("sheets/*.pdf")
    (data,) = verify_records.attached_to(sheet.read_bytes())
    drawn = io.BytesIO()
    page = Canvas(drawn)
    page.drawString(72, 700, "Wind 3 mph. All met.")
    page.save()
    sheet.write_bytes(signed_pdf(drawn.getvalue(), Attachment("r.json", data, "application/json", "r"), key))


def test_a_sheet_that_another_signed_who_carries_the_firms_certificate_along_fails(bundle, firm):
    genuine = paper_key(firm)
    other = make_certificate("Quillfeather Exterior Care", clock.now())
    forged_by(bundle, replace(other, chain=(genuine.certificate,)))
    (failing,) = fails(bundle)
    assert failing.endswith(
        f"the certificate that signed it is none of those in this bundle ({other.fingerprint})"
    )


def test_a_sheet_that_names_the_firms_certificate_and_another_key_signed_fails(bundle, firm):
    other = make_certificate("Quillfeather Exterior Care", clock.now())
    forged_by(bundle, PaperKey(paper_key(firm).certificate, other.private))
    (failing,) = fails(bundle)
    assert failing.endswith("the certificate's key did not sign this")


def repadded(pdf: bytes, padding: bytes) -> bytes:
    """With something else where the signature's value ends."""
    at = pdf.index(b"0" * 200 + b">") + 200 - len(padding)
    return pdf[:at] + padding + pdf[at + len(padding) :]


def extended(pdf: bytes) -> bytes:
    """With another page drawn over the signed one, as an update that stands behind the signature."""
    writer = IncrementalPdfFileWriter(io.BytesIO(pdf))
    page = writer.root["/Pages"]["/Kids"][0]
    page["/Contents"] = writer.add_object(StreamObject(stream_data=b"q 1 1 1 rg 0 0 2000 2000 re f Q"))
    writer.update_container(page)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("changed", "means"),
    [
        (extended, "it is not over the whole file: something was added after it was signed"),
        (lambda pdf: pdf + b"\n", "it is not over the whole file: something was added after it was signed"),
        (
            lambda pdf: pdf.replace(b"/Type /Page\n", b"/Type /Pagf\n"),
            "the file was changed since it was signed",
        ),
        (lambda pdf: repadded(pdf, b"ff"), "something was put behind it"),
        (lambda pdf: pdf.replace(b"/ByteRange [0", b"/ByteRang_ [0"), "it does not have one signature"),
        (lambda pdf: pdf.replace(b"<3082", b"<3080"), "it is damaged and can't be checked"),
        (lambda pdf: pdf.replace(b"<3082", b"<30ff"), "it is damaged and can't be checked"),
    ],
)
def test_a_sheet_that_is_not_signed_whole_fails(bundle, changed, means):
    (sheet,) = bundle.glob("sheets/*.pdf")
    before = sheet.read_bytes()
    sheet.write_bytes(changed(before))
    assert sheet.read_bytes() != before
    assert [line for line in fails(bundle) if line.startswith(f"sheets/{sheet.name}, its signature: {means}")]


def test_a_firms_own_certificate_of_another_kind_is_checked_too(bundle):
    private = generate_private_key(65537, 2048)
    name = subject_of("Quillfeather Exterior Care LLC")
    now = clock.now().replace(microsecond=0)
    builder = x509.CertificateBuilder(name, name, private.public_key(), 7, now, now + timedelta(days=9))
    own = PaperKey(builder.sign(private, SHA256()), private)
    forged_by(bundle, own)
    (bundle / "certificates/own.pem").write_bytes(own.certificate.public_bytes(Encoding.PEM))
    add_up(bundle)
    code, said = checked(bundle)
    assert code == 0, said
    assert f"signed as a whole with the certificate {own.fingerprint}" in said


def test_what_the_guide_says_of_other_programs_is_so(bundle, firm, tmp_path):
    """The two lines to look for, and the fingerprint of the certificate that signed."""
    genuine = paper_key(firm)
    other = make_certificate("Quillfeather Exterior Care", clock.now())
    (sheet,) = bundle.glob("sheets/*.pdf")
    said = said_by_pdfsig(sheet)
    assert all(line in said for line in ("Signature is Valid", "Total document signed"))
    assert told_by_openssl(sheet, tmp_path) == genuine.fingerprint
    forged_by(bundle, replace(other, chain=(genuine.certificate,)))
    assert told_by_openssl(sheet, tmp_path) == other.fingerprint
    sheet.write_bytes(extended(sheet.read_bytes()))
    assert "Total document signed" not in said_by_pdfsig(sheet)


def told_by_openssl(sheet: Path, folder: Path) -> str:
    """As README.txt says, with its own lines."""
    program("openssl", package="openssl")
    program("pdfsig", package="poppler-utils")
    lines = [line.strip() for line in (sheet.parents[1] / "README.txt").read_text().splitlines()]
    starts = ("pdfsig -nocert -dump", "openssl cms", "openssl x509")
    commands = [next(line for line in lines if line.startswith(start)) for start in starts]
    (folder / "FILE.pdf").write_bytes(sheet.read_bytes())
    ran = subprocess.run(
        " && ".join(commands), shell=True, cwd=folder, capture_output=True, text=True, check=True
    )
    return "sha256:" + ran.stdout.split("=")[-1].strip().replace(":", "").lower()
