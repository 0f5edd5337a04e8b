import base64
from copy import deepcopy
from hashlib import sha256

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from records.document.canonical import as_json
from records.document.reader import read
from records.document.signatures import bytes_to_sign, key_digest, with_signature
from records.document.signed_record import record_digest, seal, sections_of, verify
from shared.canonical import canonical_bytes
from tests.records.document.documents import document

KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
OTHER_KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(1, 33)))
DOCUMENT = read(document("full"))
SECTIONS = sections_of(DOCUMENT)
SALTS = {name: sha256(name.encode()).hexdigest()[:32] for name in SECTIONS}
ANSWERS = [{"rule": "us-wa/record/wind", "about": ["weather.readings"], "reason": "The gauge was broken."}]
CHECK = {"digest": "sha256:" + "0" * 64, "context_digest": "sha256:" + "1" * 64}


def signed(record=None, key=KEY, **more):
    record = record or seal(DOCUMENT, ANSWERS, CHECK, SALTS)
    said = {"by": "R. Osei", "role": "applicator", "meaning": "I made this treatment as stated."}
    return with_signature(record, key, **said, claimed_at="2026-09-14T10:06:00-07:00", **more)


def problems(record, sections=SECTIONS, salts=SALTS, keys=None) -> list[str]:
    return [fault.say("en") for fault in verify(record, sections, salts, keys or KEY.public_key()).problems]


def test_the_record_holds_its_own_members_and_a_digest_for_every_other_section():
    record = seal(DOCUMENT, ANSWERS, CHECK, SALTS)
    assert list(record) == ["schema", "record", "sections", "answers", "check"]
    assert record["schema"] == "signed-record/1"
    assert record["record"] == as_json(DOCUMENT.record)
    assert record["sections"].keys() == as_json(DOCUMENT).keys() - {"record"}
    assert record["answers"] == ANSWERS
    assert record["check"] == CHECK


def test_a_sections_digest_is_over_its_name_its_salt_and_itself():
    expected = sha256(canonical_bytes(["customer", SALTS["customer"], SECTIONS["customer"]])).hexdigest()
    assert seal(DOCUMENT, [], CHECK, SALTS)["sections"]["customer"] == f"sha256:{expected}"


def test_a_section_without_a_salt_is_not_sealed():
    with pytest.raises(KeyError, match="customer"):
        seal(DOCUMENT, [], CHECK, {name: salt for name, salt in SALTS.items() if name != "customer"})


def test_a_record_without_a_check_says_nothing_of_one():
    assert "check" not in seal(DOCUMENT, [], None, SALTS)


def test_the_signature_covers_the_canonical_bytes_of_all_but_signatures():
    record = signed(device_at="2026-09-14T10:05:58-07:00")
    (entry,) = record["signatures"]
    unsigned = {name: value for name, value in record.items() if name != "signatures"}
    assert bytes_to_sign(record) == canonical_bytes(unsigned)
    value = base64.urlsafe_b64decode(entry["value"] + "==")
    KEY.public_key().verify(value, canonical_bytes(unsigned))
    assert "=" not in entry["value"]
    assert entry["key"] == key_digest(KEY.public_key())
    assert entry["key"] == "sha256:" + sha256(KEY.public_key().public_bytes_raw()).hexdigest()
    assert entry["algorithm"] == "Ed25519"
    assert entry["device_at"] == "2026-09-14T10:05:58-07:00"


def test_the_records_digest_is_over_all_of_it_signatures_too():
    record = signed()
    assert record_digest(record) == "sha256:" + sha256(canonical_bytes(record)).hexdigest()
    assert record_digest(record) != record_digest(seal(DOCUMENT, ANSWERS, CHECK, SALTS))


def test_a_whole_record_verifies():
    verification = verify(signed(), SECTIONS, SALTS, KEY.public_key())
    assert verification.holds
    assert verification.withheld == []


def test_two_signatures_both_verify_and_the_first_stays_good():
    record = signed(signed(), OTHER_KEY)
    assert len(record["signatures"]) == 2
    assert verify(record, SECTIONS, SALTS, [KEY.public_key(), OTHER_KEY.public_key()]).holds
    assert problems(record) == ["signatures[1].key: this was signed with a key that is not among those given"]


@pytest.mark.parametrize(
    "withheld", [("people",), ("customer", "firm", "incidents", "schema"), tuple(SECTIONS)]
)
def test_a_record_with_sections_withheld_still_verifies_and_names_them(withheld):
    sections = {name: section for name, section in SECTIONS.items() if name not in withheld}
    salts = {name: salt for name, salt in SALTS.items() if name not in withheld}
    verification = verify(signed(), sections, salts, KEY.public_key())
    assert verification.holds
    assert sorted(verification.withheld) == sorted(withheld)


@pytest.mark.parametrize("name", SECTIONS)
def test_a_section_that_was_changed_is_named(name):
    sections = {**SECTIONS, name: [SECTIONS[name], "more"]}
    assert problems(signed(), sections) == [f"sections.{name}: this is not the section that was signed"]


def test_a_section_that_was_added_or_has_no_salt_is_named():
    assert problems(signed(), {**SECTIONS, "extra": {}}) == [
        "sections.extra: the record does not bind this section"
    ]
    salts = {name: salt for name, salt in SALTS.items() if name != "site"}
    assert problems(signed(), salts=salts) == ["salts.site: the salt of this section is needed to verify it"]


def test_what_has_no_canonical_form_does_not_verify():
    assert problems(signed(), {**SECTIONS, "site": {"distance": 2.5}}) == [
        "sections.site: this is not the section that was signed"
    ]
    assert problems({**signed(), "answers": [2.5]})[0].startswith("document: this has no canonical form")


def changed(path: list, value: object):
    record = deepcopy(signed())
    owner = record
    for key in path[:-1]:
        owner = owner[key]
    owner[path[-1]] = value
    return record


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (["record", "number"], "2026-0161"),
        (["answers", 0, "reason"], "No reason."),
        (["answers"], []),
        (["check", "digest"], "sha256:" + "2" * 64),
        (["signatures", 0, "value"], "A" * 86),
        (["signatures", 0, "value"], None),
        (["signatures", 0, "value"], "not base64url!"),
        (["signatures", 0, "value"], signed()["signatures"][0]["value"] + "=="),
        (["signatures", 0, "value"], signed()["signatures"][0]["value"][:-1]),
    ],
)
def test_anything_changed_in_the_record_breaks_its_signature(path, value):
    assert problems(changed(path, value)) == [
        "signatures[0].value: the signature does not fit: the record or the signature was changed"
    ]


@pytest.mark.parametrize(
    ("path", "value", "first"),
    [
        (["signatures"], [], "signatures: this is not signed"),
        (["signatures"], None, "signatures: this is not signed"),
        (["signatures", 0], "R. Osei", "signatures[0].algorithm: expected a signature made with Ed25519"),
        (["signatures", 0, "algorithm"], "none", "signatures[0].algorithm: expected a signature made with"),
        (["signatures", 0, "key"], "sha256:00", "signatures[0].key: this was signed with a key that is not"),
        (["schema"], "signed-record/2", 'schema: expected "signed-record/1", got "signed-record/2"'),
        (["sections"], [], "sections: this cannot stand here: []"),
        (["record"], None, "record: this cannot stand here: null"),
        (["colour"], "red", "colour: unknown member"),
    ],
)
def test_what_is_no_signed_record_is_said(path, value, first):
    assert problems(changed(path, value))[0].startswith(first)


def test_a_salt_hides_what_a_withheld_section_says():
    other = {name: salt[::-1] for name, salt in SALTS.items()}
    one, two = seal(DOCUMENT, [], CHECK, SALTS), seal(DOCUMENT, [], CHECK, other)
    assert all(one["sections"][name] != two["sections"][name] for name in SECTIONS)
