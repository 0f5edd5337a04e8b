"""A record file that the service writes brings its places in the log, whatever was signed before and since."""

import pytest

from records.document.proof import proofs_of
from records.document.record_file import load_record_file
from records.models import SignedRecord
from records.record_files import record_file
from records.services.follow_ups import sign_follow_up
from records.services.key_changes import change_key
from records.services.to_sign import Signer
from shared.canonical import canonical_bytes
from tests.records.logged import AT, by_sql


def looked_at(record: SignedRecord) -> tuple[list[str], list[str]]:
    """What fails, and what of who signed is stated alone."""
    proofs = proofs_of(load_record_file(canonical_bytes(record_file(record))))
    wrong = [proof.fault.say("en") for proof in proofs if proof.fault]
    return wrong, [proof.path for proof in proofs if proof.stated and "signatures" in proof.path]


def test_of_each_version_who_signed_as_what_and_when_is_held_by_the_log(logged, firm):
    for record in SignedRecord.objects.for_firm(firm):
        assert looked_at(record) == ([], [])


def test_it_is_so_after_the_key_was_changed(logged, firm, done, colleague):
    change_key(firm)
    sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="by the new key")
    assert looked_at(logged[0]) == ([], [])


def test_another_signer_in_the_file_does_not_hold(logged):
    file = record_file(logged[0])
    file["record"]["signatures"][0]["by"] = "J. Quill"
    wrong = [proof.fault.wording for proof in proofs_of(file) if proof.fault]
    assert "signed/not_in_the_log" in wrong


@pytest.mark.parametrize(
    "gone", ["DELETE FROM records_treehead", 'DELETE FROM records_logentry WHERE "index" = 1']
)
def test_where_the_log_has_no_place_for_all_of_it_the_file_brings_none(logged, gone):
    by_sql(gone)
    assert "log" not in record_file(logged[0])
