"""What was changed in the bytes of the log, of what is in it or of its heads is named by a look."""

import json

import pytest

from records.document.section_lines import BREAK
from records.document.signatures import with_signature
from records.models import SigningKey
from records.services.keys import signing_key
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.merkle import leaf_hash
from tests.records.logged import AT, broken, by_sql, key_of


def test_one_byte_changed_in_a_signed_record_is_named(logged, firm, done):
    changed = bytes(logged[0].record).replace(b"R. Osei", b"R. Osel", 1)
    by_sql("UPDATE records_signedrecord SET record = %s WHERE uuid = %s", changed, key_of(logged[0]))
    name = f"{done.number} v1"
    assert {("log/leaf_changed"), ("log/digest_changed")} <= {
        what for whose, what in broken(firm) if whose == name
    }


@pytest.mark.parametrize("column", ["record", "section_lines"])
def test_a_byte_changed_anywhere_in_what_is_signed_is_named(logged, firm, done, column):
    data = bytes(getattr(logged[0], column))
    for place in range(0, len(data), len(data) // 9):
        changed = bytearray(data)
        changed[place] ^= 1
        by_sql(
            f"UPDATE records_signedrecord SET {column} = %s WHERE uuid = %s", bytes(changed), key_of(logged[0])
        )
        assert f"{done.number} v1" in [whose for whose, _what in broken(firm)], place


def put_in_place(record, data: bytes) -> None:
    """Other signed bytes, with the digest and the leaf that fit them."""
    row = key_of(record)
    by_sql("UPDATE records_signedrecord SET record = %s, digest = %s WHERE uuid = %s", data, digest(data), row)
    by_sql("UPDATE records_logentry SET leaf = %s WHERE record_id = %s", leaf_hash(data), row)


@pytest.mark.parametrize("data", [b"", b"{}", b"[]", b"3", b"\xff", b'{"signatures":[{}]}', b"[" * 100_000])
def test_bytes_that_say_nothing_are_named_even_where_leaf_and_digest_fit_them(logged, firm, done, data):
    put_in_place(logged[0], data)
    assert f"{done.number} v1" in [whose for whose, _what in broken(firm)]


def test_a_head_that_says_nothing_is_found(logged, firm):
    by_sql("UPDATE records_treehead SET head = %s WHERE size = 4", "[]")
    assert ("", "log/head_differs") in broken(firm)


def test_one_byte_changed_in_a_section_is_named(logged, firm, done):
    lines = bytes(logged[0].section_lines).replace(b"moss", b"mosS", 1)
    by_sql("UPDATE records_signedrecord SET section_lines = %s WHERE uuid = %s", lines, key_of(logged[0]))
    assert broken(firm) == [(f"{done.number} v1", "signed/section_changed")]


def test_a_section_that_stands_there_twice_is_named(logged, firm, done):
    lines = bytes(logged[0].section_lines)
    first = lines.partition(BREAK)[0]
    doubled = BREAK.join([lines, first])
    by_sql("UPDATE records_signedrecord SET section_lines = %s WHERE uuid = %s", doubled, key_of(logged[0]))
    assert broken(firm) == [(f"{done.number} v1", "signed/twice")]


def test_two_signatures_that_were_swapped_are_named(logged, firm, done):
    one, other = (json.loads(bytes(row.record)) for row in (logged[1], logged[2]))
    one["signatures"], other["signatures"] = other["signatures"], one["signatures"]
    for row, stated in ((logged[1], one), (logged[2], other)):
        data = canonical_bytes(stated)
        by_sql(
            "UPDATE records_signedfollowup SET record = %s, digest = %s WHERE uuid = %s",
            data,
            digest(data),
            key_of(row),
        )
        by_sql("UPDATE records_logentry SET leaf = %s WHERE follow_up_id = %s", leaf_hash(data), key_of(row))
    found = broken(firm)
    for kind in ("copy-given", "note"):
        assert (f"{done.number} v1, {kind}", "signed/broken_signature") in found
    assert ("", "log/head_differs") in found


def test_a_record_forged_with_another_firms_key_is_named(logged, firm, done, stranger):
    _row, private = signing_key(stranger.firm)
    stated = json.loads(bytes(logged[6].record))
    del stated["signatures"]
    said = {"by": "J. Quill", "role": "manager", "meaning": "void", "claimed_at": AT.isoformat()}
    data = canonical_bytes(with_signature(stated, private, **said))
    put_in_place(logged[6], data)
    assert (f"{done.number} v3", "signed/unknown_key") in broken(firm)
    assert SigningKey.objects.for_firm(firm).count() == 1


def test_a_kept_hash_that_was_changed_is_found(logged, firm):
    by_sql("UPDATE records_lognode SET hash = %s WHERE level = 2 AND place = 0", bytes(32))
    assert (f"{logged[0].treatment.number} v2", "log/node_changed") in broken(firm)
