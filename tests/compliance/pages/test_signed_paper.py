"""A record sheet that is handed out is signed as a file, and carries the record as data."""

import json
import logging
import stat
from io import BytesIO
from pathlib import Path

import pytest
import time_machine
from cryptography.x509 import Certificate, load_der_x509_certificate
from django.urls import reverse
from pypdf import PdfReader

from compliance.papers.record_sheet import attached
from records.certificates import make_certificate
from records.document.record_file import read_record_file
from records.models import AuditEntry, PaperCertificate, SignedRecord
from records.record_files import record_file
from records.services.certificates import certificates_of, paper_key
from shared import clock
from shared.canonical import canonical_bytes
from tests.compliance.papers.pdf import drawn_part, squeezed
from tests.compliance.papers.samples import ordinary
from tests.compliance.papers.samples import signed as as_signed
from tests.pdf_signatures import judged, said_by_pdfsig
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.time_stamping import LocalAuthority, serving


@pytest.fixture
def handed_out(client, signed, member):  # noqa: F811
    """The sheet as the page gives it out, in a language."""
    client.force_login(member.user)

    def get(language: str = "en") -> bytes:
        keys = {"uuid": signed.pk, "version": 1, "language": language}
        return client.get(reverse("record_sheet", kwargs=keys)).content

    return get


@pytest.fixture
def own(firm, settings, tmp_path):
    """A certificate of the firm's own in a file, made by nobody of ours, and set."""
    key = make_certificate("Quillfeather Exterior Care LLC", clock.now())
    path = tmp_path / "own.pem"
    path.write_bytes(key.as_pem())
    settings.PDF_CERTIFICATES = {str(firm.pk): str(path)}
    return key


def certificate_of(firm) -> Certificate:
    return load_der_x509_certificate(bytes(PaperCertificate.objects.for_firm(firm).get().certificate))


def text_of(pdf: bytes) -> str:
    return squeezed("".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages))


def test_the_signature_is_sound_covers_all_of_the_file_and_is_the_firm_s(handed_out, firm):
    status = judged(handed_out(), certificate_of(firm))
    assert status.bottom_line
    assert (status.coverage.name, status.modification_level.name) == ("ENTIRE_FILE", "NONE")
    assert status.md_algorithm == "sha256"
    assert status.pkcs7_signature_mechanism == "sha256_ecdsa"


def test_another_reader_finds_it_valid_too(handed_out, tmp_path):
    file = tmp_path / "sheet.pdf"
    file.write_bytes(handed_out())
    said = said_by_pdfsig(file)
    assert "Signature Validation: Signature is Valid." in said
    assert "Signature Type: ETSI.CAdES.detached" in said
    assert "Total document signed" in said


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_drawn_content_is_the_same_each_time_and_stands_first(handed_out, language):
    first, second = handed_out(language), handed_out(language)
    assert drawn_part(first) == drawn_part(second)
    assert len(PdfReader(BytesIO(drawn_part(first))).pages) == 1


def test_a_changed_byte_is_found(handed_out, firm, tmp_path):
    pdf = bytearray(handed_out())
    pdf[pdf.index(b"stream") + 40] ^= 1
    status = judged(bytes(pdf), certificate_of(firm))
    assert not status.intact
    assert not status.bottom_line
    (tmp_path / "changed.pdf").write_bytes(pdf)
    assert "Signature is Valid" not in said_by_pdfsig(tmp_path / "changed.pdf")


def test_what_is_added_behind_the_signature_is_found(handed_out, firm):
    from pyhanko.pdf_utils.generic import TextStringObject
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

    writer = IncrementalPdfFileWriter(BytesIO(handed_out()))
    writer.root["/Pages"]["/Kids"][0]["/Note"] = TextStringObject("14 gal, not 12")
    writer.update_container(writer.root["/Pages"]["/Kids"][0])
    out = BytesIO()
    writer.write(out)
    status = judged(out.getvalue(), certificate_of(firm))
    assert status.coverage.name != "ENTIRE_FILE"
    assert not status.bottom_line


def test_another_firm_s_certificate_is_not_accepted_as_this_one_s(handed_out, stranger):
    others = paper_key(stranger.firm).certificate
    status = judged(handed_out(), others)
    assert status.intact
    assert not status.trusted


def test_the_record_lies_in_it_byte_by_byte_and_verifies(handed_out, signed):  # noqa: F811
    record = SignedRecord.objects.for_firm(signed.firm).get()
    held = PdfReader(BytesIO(handed_out())).attachments
    assert held == {f"{signed.number}-1.json": [canonical_bytes(record_file(record, with_log=False))]}
    (data,) = held[f"{signed.number}-1.json"]
    file = read_record_file(data)
    assert (file.digest, file.verified, file.withheld) == (record.digest, True, {})


@pytest.mark.parametrize("told", ["neighbour", "registered-person"])
def test_a_name_that_the_sheet_leaves_out_does_not_leave_in_it(told):
    document = ordinary()
    document["notices"].append({"to": told, "name": "B. Lark", "means": "letter"})
    data = attached(as_signed(document) | {"check": {}}, "en").data
    assert b"Lark" not in data
    file = read_record_file(data)
    assert (file.verified, list(file.withheld), file.check) == (True, ["notices"], None)


@pytest.mark.parametrize(
    ("language", "said"), [("en", "self-made; nobody else vouches"), ("es", "es propio; nadie más responde")]
)
def test_it_says_in_a_line_what_its_signature_shows(handed_out, language, said):
    assert squeezed(said) in text_of(handed_out(language))


def test_a_mere_print_says_nothing_of_a_signature_that_it_has_not():
    from compliance.papers import record_sheet

    assert squeezed("nobody else vouches") not in text_of(record_sheet.build(json.dumps(as_signed(ordinary()))))


def test_the_certificate_is_made_once_and_its_key_kept_for_this_user_alone(handed_out, firm, settings):
    handed_out()
    handed_out()
    (row,) = PaperCertificate.objects.for_firm(firm)
    file = Path(settings.KEY_DIR) / f"{row.fingerprint.removeprefix('sha256:')}.pem"
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert b"PRIVATE KEY" in file.read_bytes()
    assert b"PRIVATE" not in bytes(row.certificate)
    made = AuditEntry.objects.for_firm(firm).filter(kind="created", thing="records.papercertificate")
    assert [entry.thing_name for entry in made] == [row.fingerprint]


def test_what_people_compare_is_told_of_each_certificate(firm):
    with time_machine.travel("2026-09-14T16:00:00Z", tick=False):
        key = paper_key(firm)
    (facts,) = certificates_of(firm)
    assert facts.fingerprint == key.fingerprint
    assert facts.subject == "CN=Quillfeather Exterior Care"
    assert facts.is_self_made
    assert f"{facts.valid_from:%Y-%m-%d} {facts.valid_until:%Y}" == "2026-09-14 2056"


@pytest.mark.parametrize(("language", "said"), [("en", "nobody else vouches"), ("es", "nadie más responde")])
def test_managers_see_the_fingerprint_to_compare(client, firm, colleague, language, said):
    client.force_login(colleague.user)
    key = paper_key(firm)
    page = client.get(reverse("log"), headers={"Accept-Language": language}).content.decode()
    assert key.fingerprint in page
    assert "CN=Quillfeather Exterior Care" in page
    assert said in page


def test_a_lost_key_and_a_new_name_ask_for_a_new_certificate_and_the_old_one_stays_told(firm, settings):
    first = paper_key(firm)
    next(Path(settings.KEY_DIR).iterdir()).unlink()
    second = paper_key(firm)
    firm.name = "Quillfeather & Daughters"
    firm.save()
    third = paper_key(firm)
    assert third.certificate.subject.rfc4514_string() == "CN=Quillfeather & Daughters"
    assert [facts.fingerprint for facts in certificates_of(firm)] == [
        key.fingerprint for key in (third, second, first)
    ]


def test_the_firm_s_own_certificate_signs_where_one_is_set(handed_out, own, firm):
    assert judged(handed_out(), own.certificate).bottom_line
    assert [facts.fingerprint for facts in certificates_of(firm)] == [own.fingerprint]


def test_an_own_certificate_is_not_another_firm_s(own, stranger):
    assert paper_key(stranger.firm).fingerprint != own.fingerprint


def test_an_own_certificate_that_cannot_be_used_is_told_and_the_paper_is_signed_all_the_same(
    handed_out, own, firm, settings, caplog
):
    path = Path(settings.PDF_CERTIFICATES[str(firm.pk)])
    path.write_text("no certificate")
    with caplog.at_level(logging.ERROR):
        pdf = handed_out()
    assert str(path) in caplog.text
    assert judged(pdf, certificate_of(firm)).bottom_line


@pytest.fixture
def authority(settings):
    with serving(LocalAuthority()) as local:
        settings.TIME_STAMP_AUTHORITY = local.address
        yield local


def test_where_a_time_stamp_authority_is_set_it_says_when_the_paper_was_signed(handed_out, firm, authority):
    status = judged(handed_out(), certificate_of(firm), authority.root)
    assert status.bottom_line
    assert status.timestamp_validity.trusted
    assert status.timestamp_validity.signing_cert.subject.human_friendly == "Common Name: Example Time"


def test_a_silent_authority_keeps_nobody_from_a_paper_and_is_not_asked_for_some_minutes(
    handed_out, firm, authority
):
    authority.answers = False
    first, second = handed_out(), handed_out()
    assert authority.asked == 1
    for pdf in (first, second):
        status = judged(pdf, certificate_of(firm))
        assert status.bottom_line
        assert status.timestamp_validity is None
