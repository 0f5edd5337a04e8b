"""A record sheet in a bundle holds the record that lies beside it, and carries a certificate that is there."""

import io
import shutil
from pathlib import Path
from zipfile import ZipFile

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.hashes import SHA256

from compliance.pages.papers import sheets_beside
from records.bundle.writer import write_bundle
from records.models import PaperCertificate
from shared.digests import named
from tests.compliance.pages.test_hand_over import checked
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
    assert f"holds     {sheet}, the certificate in it, {row.fingerprint}" in said
    asks = "not checked here: use pdfsig, and compare the certificate's fingerprint"
    assert f"note      {sheet}, its printed pages and its signature: {asks}" in said
    (path,) = bundle.glob("certificates/*.pem")
    certificate = x509.load_pem_x509_certificate(path.read_bytes())
    assert named(certificate.fingerprint(SHA256())) == row.fingerprint
    assert f"Fingerprint (SHA-256): {row.fingerprint}" in path.read_text()
    assert f"note      certificates/{path.name}: {row.fingerprint}, nobody signed that it is the firm's" in said


def test_a_sheet_of_another_record_is_named(bundle, signed):  # noqa: F811
    sheet = bundle / f"sheets/{signed.number}-v1-en.pdf"
    shutil.copy(sheet, bundle / "sheets/2026-9999-v1-en.pdf")
    change(bundle, f"records/{signed.number}-v1.json", lambda file: file["entry"].update(kind="void"))
    for path in bundle.glob("certificates/*"):
        path.unlink()
    data = "the data in it, byte for byte the record in this bundle"
    assert fails(bundle) == [
        f"sheets/{sheet.name}, {data}: they are not the record in this bundle",
        f"sheets/{sheet.name}, the certificate in it: it is none of those in this bundle",
        "sheets/2026-9999-v1-en.pdf: the record that it is of is not in this bundle",
    ]
    sheet.write_bytes(sheet.read_bytes().replace(b"/EmbeddedFile\n", b"/EmbeddedFilo\n"))
    assert any(line.startswith(f"sheets/{sheet.name}, the data in it") for line in fails(bundle))
