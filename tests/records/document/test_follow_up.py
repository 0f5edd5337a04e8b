import json

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from records.document.canonical import as_json, digest_of
from records.document.follow_up import read_follow_up
from records.document.signatures import signature_holds, with_signature
from records.document.words import WORD_LISTS
from tests.records.document.documents import faults

FOLLOW_UP = {
    "schema": "follow-up/1",
    "follows": {"id": "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b11", "digest": "sha256:" + "ab" * 32},
    "kind": "feature-restored",
    "at": "2026-09-15T08:00:00-07:00",
    "by": "R. Osei",
    "detail": "Covers off the curb inlet; downspouts back.",
    "evidence": [{"sha256": "cd" * 32, "media_type": "image/jpeg", "bytes": 12, "taken_at": None}],
}


@pytest.mark.parametrize("kind", WORD_LISTS["follow_up_kind"])
def test_a_follow_up_of_every_kind_reads(kind):
    assert read_follow_up(json.dumps({**FOLLOW_UP, "kind": kind})).kind == kind


@pytest.mark.parametrize("member", ["schema", "follows", "kind"])
def test_a_follow_up_must_say_what_it_is_and_what_it_follows(member):
    without = {name: value for name, value in FOLLOW_UP.items() if name != member}
    assert faults(without, read_follow_up) == [f"{member}: this must be there"]


def test_faults_of_a_follow_up_have_paths():
    found = faults({**FOLLOW_UP, "kind": "gossip", "at": "today", "colour": "red"}, read_follow_up)
    assert [message.partition(":")[0] for message in found] == ["kind", "at", "colour"]


def test_a_follow_up_is_signed_as_a_record_is():
    key = Ed25519PrivateKey.generate()
    plain = as_json(read_follow_up(FOLLOW_UP))
    said = {"by": "R. Osei", "role": "applicator", "meaning": "This was done."}
    signed = with_signature(plain, key, **said, claimed_at="2026-09-15T08:01:00-07:00")
    value = signed["signatures"][0]["value"]
    assert signature_holds(signed, value, key.public_key())
    assert not signature_holds({**signed, "detail": "Nothing."}, value, key.public_key())
    assert digest_of(read_follow_up(signed)) != digest_of(read_follow_up(plain))
