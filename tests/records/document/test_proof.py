"""What a record file proves: each thing that was changed, put in or taken away is named."""

from copy import deepcopy
from datetime import UTC, datetime
from typing import Any

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from records.document.faults import DocumentFaults
from records.document.key_change import key_change
from records.document.proof import proofs_of
from records.document.record_file import load_record_file, read_record_file, record_file
from records.document.signatures import key_digest, with_signature
from records.document.signed_record import seal
from tests.records.document.documents import faults
from tests.records.document.record_files import BOUND, RECORD, STORED, file, follow_up, keys
from tests.records.document.test_signed_record import (
    ANSWERS,
    DOCUMENT,
    KEY,
    OTHER_KEY,
    SALTS,
    SECTIONS,
    signed,
)

WHO = ("by", "role", "meaning", "claimed_at")
BROKEN = "the signature does not fit: the record or the signature was changed"


def wrong(changed: dict[str, Any], trusted: str | None = None) -> list[str]:
    """What fails, said."""
    return [proof.fault.say("en") for proof in proofs_of(load_record_file(changed), trusted) if proof.fault]


def changed(path: list[Any], value: object) -> dict[str, Any]:
    whole = deepcopy(file())
    owner: Any = whole
    for key in path[:-1]:
        owner = owner[key]
    owner[path[-1]] = value
    return whole


def test_everything_in_a_whole_record_file_holds_and_is_named():
    proofs = proofs_of(load_record_file(file()))
    assert [proof.path for proof in proofs] == [
        "record.signatures[0]",
        *(f"record.signatures[0].{name}" for name in WHO),
        *(f"sections.{name}" for name in SECTIONS),
        "check",
        "follow_ups[0].signatures[0]",
        *(f"follow_ups[0].signatures[0].{name}" for name in WHO),
    ]
    assert wrong(file()) == []


def test_what_a_copy_withholds_is_named_and_no_fault():
    sections = {name: section for name, section in SECTIONS.items() if name != "people"}
    copy = record_file(RECORD, sections, SALTS, keys=keys(KEY))
    withheld = [proof.path for proof in proofs_of(load_record_file(copy)) if proof.withheld]
    assert withheld == ["sections.people", "check"]
    assert wrong(copy) == []


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (["record", "record", "number"], "2026-0999", f"record.signatures[0].value: {BROKEN}"),
        (["record", "record", "result"], "stood-down", f"record.signatures[0].value: {BROKEN}"),
        (["record", "answers", 0, "reason"], "None.", f"record.signatures[0].value: {BROKEN}"),
        (["record", "signatures", 0, "value"], "A" * 86, f"record.signatures[0].value: {BROKEN}"),
        (["sections", "notes"], "Other.", "sections.notes: this is not the section that was signed"),
        (["check", "outcome"], "met", "check: this is not the check that was signed"),
        (["follow_ups", 0, "detail"], "lost", f"follow_ups[0].signatures[0].value: {BROKEN}"),
        (["follow_ups", 0, "signatures"], [], "follow_ups[0].signatures: this is not signed"),
        (["keys"], keys(OTHER_KEY), "record.signatures[0].key: this was signed with a key that is not among"),
        (["keys"], {}, "record.signatures: no public key came with the record"),
    ],
)
def test_what_was_changed_is_named(path, value, said):
    assert wrong(changed(path, value))[0].startswith(said)


def test_another_records_signature_does_not_hold():
    other = signed(seal(DOCUMENT, [], BOUND, SALTS))
    assert wrong(file(record={**RECORD, "signatures": other["signatures"]})) == [
        f"record.signatures[0].value: {BROKEN}"
    ]


def test_a_forged_section_whose_digest_was_made_anew_breaks_the_signature():
    forged = {**SECTIONS, "notes": "Nothing happened."}
    document = DOCUMENT.model_copy(update={"notes": "Nothing happened."})
    record = {**seal(document, ANSWERS, BOUND, SALTS), "signatures": RECORD["signatures"]}
    assert wrong(file(record=record, sections=forged)) == [f"record.signatures[0].value: {BROKEN}"]


def test_a_follow_up_of_another_record_is_not_taken():
    other = follow_up(id="0b0a4f54-6d1c-4f7e-9a53-0a6c1f5d2b11")
    assert wrong(file(follow_ups=[other])) == [
        "follow_ups[0].follows: this follows another record than this one"
    ]


def test_a_follow_up_signed_with_another_key_is_not_taken():
    assert wrong(file(follow_ups=[follow_up(OTHER_KEY)]))[0].startswith("follow_ups[0].signatures[0].key: ")


def test_a_follow_up_to_an_earlier_version_of_the_same_record_is_taken():
    assert wrong(file(follow_ups=[follow_up(digest="sha256:" + "2" * 64)])) == []


def test_a_record_without_an_id_is_followed_by_its_digest():
    document = DOCUMENT.model_copy(update={"record": DOCUMENT.record.model_copy(update={"id": None})})
    record = signed(seal(document, [], None, SALTS))
    bare = record_file(record, SECTIONS, SALTS, [follow_up()], keys=keys(KEY))
    assert wrong(bare) == ["follow_ups[0].follows: this follows another record than this one"]


def test_a_key_that_is_not_the_one_of_its_digest_is_named():
    name = key_digest(KEY.public_key())
    for text in (*keys(OTHER_KEY).values(), "short", 5):
        assert wrong(file(keys={name: text}))[0] == f"keys.{name}: this is not the Ed25519 key of that digest"


def test_only_the_key_that_is_trusted_counts():
    assert wrong(file(keys=keys(KEY, OTHER_KEY)), key_digest(KEY.public_key())) == []
    assert wrong(file(keys=keys(KEY, OTHER_KEY)), key_digest(OTHER_KEY.public_key()))[0].startswith(
        "record.signatures[0].key: "
    )


def test_an_entry_that_disagrees_with_the_record_is_named():
    assert DOCUMENT.record.version == 2
    assert wrong(file(entry={"kind": "signed"})) == ["entry.kind: the record says that it is a correction"]
    assert wrong(file(entry={"kind": "void"}, superseded_by={"version": 3})) == []
    assert wrong(file(superseded_by={"version": 2})) == [
        "superseded_by.version: expected a later version than 2"
    ]


def test_a_void_record_that_is_called_a_correction_and_another_reason_are_named():
    void = with_signature(
        {name: value for name, value in RECORD.items() if name != "signatures"},
        KEY,
        by="R. Osei",
        role="manager",
        meaning="void",
        claimed_at="2026-09-15T08:00:00-07:00",
    )
    handed = record_file(void, SECTIONS, SALTS, keys=keys(KEY), entry={"kind": "corrected"})
    assert wrong(handed, None)[-1] == "entry.kind: the record says that it is made void"
    assert wrong(file(entry={"reason": "a better reason"})) == [
        "entry.reason: this is not the reason that was signed"
    ]


def test_what_nobody_signed_is_told_from_what_holds():
    beside = {
        "entry": {"received_at": "2026-09-15T15:31:00+00:00", "proof": "k3"},
        "superseded_by": {"version": 3},
        "erased": {"sections": ["customer"]},
    }
    stated = [proof.path for proof in proofs_of(file(**beside)) if proof.stated]
    beside_signers = [path for path in stated if "signatures" not in path]
    assert beside_signers == ["entry.received_at", "entry.proof", "superseded_by", "erased"]


def test_a_check_that_the_record_does_not_bind_is_named():
    unbound = signed(seal(DOCUMENT, ANSWERS, None, SALTS))
    assert wrong(record_file(unbound, SECTIONS, SALTS, check=STORED, keys=keys(KEY))) == [
        "check: this is not the check that was signed"
    ]
    assert wrong(file(check={"schema": 2.5})) == ["check: this is not the check that was signed"]


def test_reading_refuses_what_does_not_hold():
    assert faults(changed(["record", "record", "number"], "2026-0999"), read_record_file) == [
        f"record.signatures[0].value: {BROKEN}"
    ]


def rotated(lost: bool = False) -> dict[str, Any]:
    """The record by one key, its follow-up by the next, and the change between them."""
    old, new = key_digest(KEY.public_key()), OTHER_KEY
    stated = key_change("a-log", old, datetime(2026, 9, 20, tzinfo=UTC), new, None if lost else KEY)
    parts = {"keys": keys(KEY, OTHER_KEY), "check": STORED}
    return record_file(RECORD, SECTIONS, SALTS, [follow_up(OTHER_KEY)], [stated], **parts)


def test_from_either_key_a_change_that_both_have_signed_is_followed():
    for key in (KEY, OTHER_KEY):
        assert wrong(rotated(), key_digest(key.public_key())) == []


def test_from_a_lost_key_nothing_leads_on_and_back_from_the_new_one_it_does():
    assert wrong(rotated(lost=True), key_digest(OTHER_KEY.public_key())) == []
    (said,) = wrong(rotated(lost=True), key_digest(KEY.public_key()))
    assert said.startswith("follow_ups[0].signatures[0].key: this was signed with another key than the one")


@pytest.mark.parametrize(
    "forge",
    [
        lambda change: change["signatures"].pop(0),
        lambda change: change.update(lost=True),
        lambda change: change.update(at="2027-01-01T00:00:00+00:00"),
        lambda change: change.update(replaces=change["key"]),
        lambda change: change.update(lost=1.5),
        lambda change: change.clear(),
    ],
)
def test_a_change_that_was_forged_leads_nowhere(forge):
    whole = rotated()
    forge(whole["key_changes"][0])
    assert len(wrong(whole, key_digest(KEY.public_key()))) == 1


@pytest.mark.parametrize("lost", [False, True])
@pytest.mark.parametrize("trusted", [None, KEY, OTHER_KEY])
def test_a_second_change_of_the_same_key_by_who_still_holds_it_does_not_hold(trusted, lost):
    third, old = Ed25519PrivateKey.from_private_bytes(bytes([3]) * 32), key_digest(KEY.public_key())
    forged = key_change("a-log", old, datetime(2026, 9, 21, tzinfo=UTC), third, None if lost else KEY)
    stated = {name: value for name, value in RECORD.items() if name != "signatures"}
    said = {"by": "R. Osei", "role": "crew", "meaning": "corrected", "claimed_at": "2026-09-22T08:00:00Z"}
    whole = rotated() | {"follow_ups": [], "record": with_signature(stated, third, **said)}
    whole["keys"] = keys(KEY, OTHER_KEY, third)
    for place in (0, 1):
        forked = {**whole, "key_changes": [*rotated()["key_changes"]]}
        forked["key_changes"].insert(place, forged)
        found = wrong(forked, trusted and key_digest(trusted.public_key()))
        assert f"key_changes[1]: two changes replace the key {old}, or lead to one key" in found[0]
        with pytest.raises(DocumentFaults):
            read_record_file(forked)


def test_without_its_place_in_the_log_who_signed_as_what_and_when_is_stated_alone():
    whole = file(entry={"kind": "corrected"})
    whole["record"]["signatures"][0] |= {"by": "J. Quill", "role": "licensee", "meaning": "corrected"}
    stated = [proof.path for proof in proofs_of(whole) if proof.stated]
    assert {f"record.signatures[0].{name}" for name in WHO} | {"entry.kind"} <= set(stated)
    assert {f"follow_ups[0].signatures[0].{name}" for name in WHO} <= set(stated)
    assert wrong(whole) == []


def test_what_says_to_be_signed_after_its_key_was_replaced_does_not_hold():
    whole = rotated()
    whole["record"]["signatures"][0]["claimed_at"] = "2026-09-20T00:00:01+00:00"
    for trusted in (None, key_digest(KEY.public_key()), key_digest(OTHER_KEY.public_key())):
        assert wrong(whole, trusted) == [
            "record.signatures[0].claimed_at: it says to have been signed after its key was replaced, on "
            "2026-09-20T00:00:00.000000+00:00"
        ]


def test_a_key_that_was_lost_comes_to_its_end_also_for_who_trusts_it_alone():
    whole = rotated(lost=True) | {"follow_ups": []}
    whole["record"]["signatures"][0]["claimed_at"] = "2026-09-20T00:00:01+00:00"
    (said,) = wrong(whole, key_digest(KEY.public_key()))
    assert "it says to have been signed after its key was replaced" in said


@pytest.mark.parametrize("signatures", [[[]], [{"key": []}], [{"key": {}, "claimed_at": 5}], ["x"], 7])
def test_signatures_that_are_none_are_named_whatever_stands_there(signatures):
    assert wrong({**rotated(), "record": {**RECORD, "signatures": signatures}})
