"""Whatever is done to a bundle, its own script names the record, or says that it is no bundle any more."""

import json
from datetime import timedelta

import pytest
import time_machine

from records.document.signatures import public_key_text, with_signature
from records.log_check import look_at_log
from records.models import SigningKey, TreeHead
from records.services.follow_ups import sign_follow_up
from records.services.keys import signing_key
from records.services.to_sign import Signer
from shared.canonical import canonical_bytes
from shared.digests import digest
from tests.records.logged import AT, by_sql, key_of, sign_now
from tests.records.test_bundle import bundle, change, failing, first_record, run, unpacked  # noqa: F401 - a fixture


def test_an_entry_that_was_taken_out_is_named_by_the_record_that_it_was_of(bundle, done):  # noqa: F811
    change(bundle, "log.json", lambda log: log["entries"].pop(0))
    missed = "its place in the log: it is not among the bundle's entries"
    assert failing(bundle) == [f"{done.number} version 1, {missed}"]


def test_two_entries_that_changed_places_are_named(bundle, done):  # noqa: F811
    def swap(log):
        one, other = log["entries"][0], log["entries"][3]
        one["index"], other["index"] = other["index"], one["index"]

    change(bundle, "log.json", swap)
    said = failing(bundle)
    for version, index in ((1, 3), (2, 0)):
        place = f"entered in the log at {index}: the log does not hold these bytes at that place"
        assert f"{done.number} version {version}, {place}" in said


def test_entries_that_changed_places_with_proofs_and_heads_are_named(bundle, done):  # noqa: F811
    def swap(log):
        one, other = log["entries"][0], log["entries"][3]
        one["digest"], other["digest"] = other["digest"], one["digest"]

    change(bundle, "log.json", swap)
    assert {line.split(", entered")[0] for line in failing(bundle)} == {
        f"{done.number} version 1",
        f"{done.number} version 2",
    }


def test_an_old_head_in_the_place_of_the_newest_is_named_by_what_it_does_not_hold(bundle, firm, done):  # noqa: F811
    old = TreeHead.objects.for_firm(firm).get(size=3).head
    change(bundle, "log.json", lambda log: log.update(head=old))
    said = "\n".join(failing(bundle))
    for version, index in ((2, 3), (3, 6)):
        assert f"{done.number} version {version}, entered in the log at {index}: the log does not hold" in said


def test_a_record_forged_with_another_firms_key_is_named(bundle, firm, done, stranger):  # noqa: F811
    row, private = signing_key(stranger.firm)

    def forge(file):
        stated = {name: part for name, part in file["record"].items() if name != "signatures"}
        said = {"by": "R. Osei", "role": "crew", "meaning": "signed", "claimed_at": AT.isoformat()}
        file["record"] = with_signature(stated, private, **said)

    change(bundle, first_record(bundle), forge)
    unknown = f"{done.number} version 1, signature by R. Osei, crew, signed: it was made with a key that is not"
    assert unknown in "\n".join(failing(bundle))
    smuggled = {row.digest: public_key_text(bytes(row.public))}
    change(bundle, "keys.json", lambda file: file["keys"].update(smuggled))
    assert unknown in "\n".join(failing(bundle, "--key", SigningKey.objects.for_firm(firm).get().digest))
    assert f"{done.number} version 1, its place in the log" in "\n".join(failing(bundle))


def test_a_clock_that_was_set_back_is_named_by_the_look_and_by_the_script(done, member, tmp_path):
    sign_now(done, member)
    with time_machine.travel(AT + timedelta(days=1), tick=False):
        sign_follow_up(done, Signer(member.user), kind="note", at=AT, detail="rinsed again")
    folder = unpacked(done.firm, done, tmp_path / "bundle")
    (said,) = failing(folder)
    assert said.startswith(f"{done.number} version 1, follow-up 1 (note), when it came in: ")
    assert said.endswith("the clock was set back")
    assert [(one.whose, one.fault.wording) for one in look_at_log(done.firm).broken] == [
        (f"{done.number} v1, note", "log/clock_set_back")
    ]


def test_the_head_of_another_entry_does_not_say_when_this_one_came_in(bundle, done):  # noqa: F811
    def replay(log):
        log["entries"][3]["head"] = log["entries"][0]["head"]

    change(bundle, "log.json", replay)
    other = "the head that was signed when it came in: it is of another entry"
    assert failing(bundle) == [f"{done.number} version 2, {other}"]


def other_bytes(rows):
    data = bytes(rows[0].record).replace(b"R. Osei", b"R. Osel", 1)
    by_sql("UPDATE records_signedrecord SET record = %s WHERE uuid = %s", data, key_of(rows[0]))


def another_section(rows):
    lines = bytes(rows[0].section_lines).replace(b"moss", b"mosS", 1)
    by_sql("UPDATE records_signedrecord SET section_lines = %s WHERE uuid = %s", lines, key_of(rows[0]))


def no_entry(rows):
    by_sql("DELETE FROM records_logentry WHERE record_id = %s", key_of(rows[0]))


def a_follow_up_without_entry(rows):
    by_sql("DELETE FROM records_logentry WHERE follow_up_id = %s", key_of(rows[2]))


def other_places(rows):
    for old, new in ((0, 90), (1, 0), (90, 1)):
        by_sql('UPDATE records_logentry SET "index" = %s WHERE "index" = %s', new, old)


def another_number(rows):
    stated = json.loads(bytes(rows[0].record))
    stated["record"]["number"] = rows[0].treatment.number + "9"
    data = canonical_bytes(stated)
    by_sql(
        "UPDATE records_signedrecord SET record = %s, digest = %s WHERE uuid = %s",
        data,
        digest(data),
        key_of(rows[0]),
    )


def an_old_head(rows):
    by_sql("DELETE FROM records_treehead WHERE size > 3")
    by_sql("UPDATE records_treehead SET size = 7 WHERE size = 3")


@pytest.mark.parametrize(
    "attack",
    [
        other_bytes,
        another_section,
        no_entry,
        a_follow_up_without_entry,
        other_places,
        another_number,
        an_old_head,
    ],
)
def test_what_was_changed_in_the_database_is_named_in_a_bundle_made_since(logged, firm, done, tmp_path, attack):
    attack(logged)
    said = failing(unpacked(firm, done, tmp_path / "bundle"))
    version = 3 if attack is an_old_head else 1
    assert any(line.startswith(done.number) and f"version {version}" in line for line in said), said


@pytest.mark.parametrize("name", ["log.json", "keys.json", "SHA256SUMS", "record"])
def test_a_byte_that_is_changed_anywhere_is_noticed(bundle, name):  # noqa: F811
    path = bundle / (first_record(bundle) if name == "record" else name)
    data = path.read_bytes()
    for place in range(7, len(data), len(data) // 2):
        changed = bytearray(data)
        changed[place] ^= 1
        path.write_bytes(bytes(changed))
        code, said = run(bundle)
        assert code in (1, 2) and "Traceback" not in said, (place, said)
