"""A record file's place in the log binds what no signature covers: who signed, as what, when, meaning what."""

import pytest

from records.document.proof import proofs_of
from records.document.record_file import load_record_file, read_record_file
from records.document.signatures import key_digest
from tests.records.document.logged_files import CHANGED, log_of, logged_file
from tests.records.document.record_files import RECORD, follow_up
from tests.records.document.test_proof import WHO, wrong
from tests.records.document.test_signed_record import KEY, OTHER_KEY

OTHER_BYTES = "the log has other bytes there"


def test_what_the_log_has_holds_with_who_signed_as_what_and_when():
    proofs = proofs_of(load_record_file(logged_file()))
    holding = {proof.path for proof in proofs if not proof.stated and not proof.fault}
    for prefix in ("record", "follow_ups[0]"):
        assert {f"{prefix}.signatures[0].{name}" for name in WHO} <= holding
    assert "entry.kind" in holding
    assert not any(proof.stated or proof.fault for proof in proofs)
    assert read_record_file(logged_file()).verified


@pytest.mark.parametrize("trusted", [KEY, OTHER_KEY])
def test_from_either_key_it_holds(trusted):
    assert wrong(logged_file(), key_digest(trusted.public_key())) == []


@pytest.mark.parametrize("trusted", [None, KEY, OTHER_KEY])
@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("by", "J. Quill"),
        ("role", "licensee"),
        ("meaning", "void"),
        ("claimed_at", "2026-09-14T08:00:00-07:00"),
        ("device_at", "2026-09-14T08:00:00-07:00"),
    ],
)
@pytest.mark.parametrize("path", ["record", "follow_ups[0]"])
def test_a_changed_signer_role_meaning_or_moment_does_not_hold(path, name, value, trusted):
    whole = logged_file()
    signed = whole["record"] if path == "record" else whole["follow_ups"][0]
    signed["signatures"][0][name] = value
    said = wrong(whole, trusted and key_digest(trusted.public_key()))
    assert [one for one in said if one.startswith(f"{path}: {OTHER_BYTES}")]


def test_a_place_worked_out_anew_for_what_was_changed_is_not_under_the_signed_head():
    whole = logged_file()
    whole["record"]["signatures"][0]["by"] = "J. Quill"
    forged = log_of([whole["record"], CHANGED, whole["follow_ups"][0]])
    whole["log"]["entries"] = forged["entries"]
    assert [one for one in wrong(whole) if one.startswith(f"record: {OTHER_BYTES}")]
    whole["log"]["head"]["root"] = forged["head"]["root"]
    assert wrong(whole)[0].startswith("log.head: the head of the log that came with the record is not signed")


@pytest.mark.parametrize(
    ("order", "path"), [("CRF", "record"), ("RFC", "follow_ups[0]")], ids=["retired", "not yet in force"]
)
def test_a_key_counts_only_where_the_log_had_it_in_force(order, path):
    for trusted in (None, key_digest(OTHER_KEY.public_key())):
        (said,) = wrong(logged_file(order), trusted)
        assert said.startswith(f"{path}: it was signed with the key")


def test_a_head_signed_with_a_retired_key_does_not_count():
    whole = logged_file()
    whole["log"] = log_of([RECORD, CHANGED, follow_up(OTHER_KEY)], head_key=KEY)
    (said,) = wrong(whole)
    assert said.startswith("log.head: it was signed with the key")


@pytest.mark.parametrize(
    "damage",
    [
        lambda log: log.clear(),
        lambda log: log.update(head=[]),
        lambda log: log.update(head={**log["head"], "signatures": []}),
        lambda log: log.update(head={**log["head"], "size": 1.5}),
        lambda log: log.update(entries=5),
        lambda log: log.update(entries=[[]]),
        lambda log: log["entries"].clear(),
        lambda log: log["entries"][0].update(index="0"),
        lambda log: log["entries"][0].update(index=1),
        lambda log: log["entries"][0].update(proof="00"),
        lambda log: log["entries"][0].update(proof=[5]),
        lambda log: log["entries"][0].update(proof=["zz"]),
        lambda log: log["entries"][0]["proof"].pop(),
    ],
)
def test_a_damaged_log_is_named_and_binds_nothing(damage):
    whole = logged_file()
    damage(whole["log"])
    assert wrong(whole)
    assert "record.signatures[0].by" in [proof.path for proof in proofs_of(whole) if proof.stated]
