"""What a person sealed on a device goes with the record, and anyone can verify it."""

import pytest

from compliance.services.sealed import receive
from records.document.proof import proofs_of
from records.record_files import record_file
from records.services.sheets import sheet_of
from tests.compliance.services.sealing import BACK_IN_THE_YARD
from tests.records.services.erasing import erased
from tests.records.test_bundle import change, failing, first_record, run, unpacked

pytestmark = pytest.mark.usefixtures("in_the_yard")


@pytest.fixture
def sealed(done, member, device):
    sheet = sheet_of(done, member.user)
    sent = device.sealed(done, member.user, BACK_IN_THE_YARD, sheet=sheet, sent_at=BACK_IN_THE_YARD)
    return receive(done, member.user, sent).record


def faults(file) -> list[str]:
    return [proof.fault.wording for proof in proofs_of(file) if proof.fault]


def test_the_record_file_carries_the_seal_and_it_holds(sealed, member):
    file = record_file(sealed)
    assert file["seal"]["statement"]["by"] == member.user.name
    assert file["seal"]["statement"]["document"] == sealed.document_digest
    assert faults(file) == []
    assert {"seal", "seal.statement"} <= {proof.path for proof in proofs_of(file)}


@pytest.mark.parametrize(
    ("change_it", "said"),
    [
        (lambda seal: seal.update(value=seal["value"][::-1]), "signed/broken_seal"),
        (lambda seal: seal.update(public="AAAA"), "signed/broken_seal"),
        (lambda seal: seal.update(statement=[]), "signed/broken_seal"),
        (lambda seal: seal["statement"].update(claimed_at="2026-09-14T09:00:00-07:00"), "signed/broken_seal"),
    ],
)
def test_a_seal_that_was_changed_is_named(sealed, change_it, said):
    file = record_file(sealed)
    change_it(file["seal"])
    assert faults(file) == [said]


def test_a_seal_on_another_document_is_named(sealed):
    file = record_file(sealed)
    file["sections"]["customer"]["name"] = "Somebody Else"
    assert "signed/other_seal" in faults(file)


def test_with_a_section_withheld_the_seal_holds_and_the_document_cannot_be_told(sealed):
    file = record_file(sealed)
    del file["sections"]["customer"], file["salts"]["customer"]
    assert faults(file) == []
    assert "seal.statement" in [proof.path for proof in proofs_of(file) if proof.withheld]


def test_the_bundles_own_script_checks_the_seal(sealed, firm, done, tmp_path):
    bundle = unpacked(firm, done, tmp_path / "bundle")
    code, said = run(bundle)
    whose = f"{done.number} version 1, sealed on a device by R. Osei"
    assert code == 0, said
    assert f"holds     {whose}, the document" in said
    whose_key = "by the key that the file states; nothing in this bundle ties it to the person"
    assert f"holds     {whose}, {BACK_IN_THE_YARD.isoformat()}, the seal, {whose_key}" in said
    change(bundle, first_record(bundle), lambda file: file["seal"]["statement"].update(by="J. Quill"))
    assert [line for line in failing(bundle) if "sealed on a device by J. Quill" in line]


def test_with_a_section_withheld_no_digest_goes_out_that_would_tell_a_right_guess(sealed, firm, done, tmp_path):
    bundle = unpacked(firm, done, tmp_path / "bundle", withheld=["customer"])
    code, said = run(bundle)
    assert code == 0, said
    assert "sealed on a device" not in said
    assert sealed.document_digest not in (bundle / first_record(bundle)).read_text()


def test_an_erased_record_has_no_seal_in_its_file(sealed, done):
    erased(done)
    assert "seal" not in record_file(sealed)
