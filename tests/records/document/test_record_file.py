import json
from copy import deepcopy

import pytest

from records.document.canonical import as_json
from records.document.follow_up import read_follow_up
from records.document.record_file import is_record_file, read_record_file, record_file
from records.document.signed_record import record_digest
from tests.records.document.documents import faults
from tests.records.document.test_signed_record import DOCUMENT, KEY, OTHER_KEY, SALTS, SECTIONS, signed

FOLLOW_UP = read_follow_up(
    {"schema": "follow-up/1", "follows": {"digest": record_digest(signed())}, "kind": "copy-given"}
)


def file(**changes):
    whole = record_file(signed(), SECTIONS, SALTS, {"schema": "stored-check/1"}, [FOLLOW_UP])
    return {**deepcopy(whole), **changes}


def test_a_record_file_reads_back_as_the_document_that_was_signed():
    read = read_record_file(json.dumps(file()))
    assert read.document == DOCUMENT
    assert read.digest == record_digest(signed())
    assert read.signatures == signed()["signatures"]
    assert read.check == {"schema": "stored-check/1"}
    assert read.follow_ups == [FOLLOW_UP]
    assert read.withheld == {}
    assert read.verified_by(KEY.public_key()).holds
    assert not read.verified_by(OTHER_KEY.public_key()).holds


def test_a_record_file_names_itself():
    assert is_record_file(file())
    assert not is_record_file(as_json(DOCUMENT))
    assert not is_record_file([])


def test_a_withheld_section_takes_its_salt_with_it_and_leaves_its_digest():
    sections = {name: section for name, section in SECTIONS.items() if name != "people"}
    handed_out = record_file(signed(), sections, SALTS)
    assert "people" not in handed_out["salts"]
    assert "check" not in handed_out
    read = read_record_file(handed_out)
    assert read.document.people is None
    assert read.withheld == {"people": signed()["sections"]["people"]}
    assert read.verified_by(KEY.public_key()).holds


def test_every_section_may_be_withheld():
    assert read_record_file(record_file(signed(), {}, SALTS)).document.record == DOCUMENT.record


@pytest.mark.parametrize(
    ("data", "message"),
    [
        ("{", "document: this is not JSON: line 1, column 2 cannot be read"),
        (
            "[]",
            "document: expected an object with members (schema, record, sections, salts, check, follow_ups), "
            "got []",
        ),
        (file(schema="record-file/2"), 'schema: expected "record-file/1", got "record-file/2"'),
        (file(salts=None), "salts: this must be there"),
        (file(sections=[]), "sections: this cannot stand here: []"),
        (
            file(colour="red"),
            "colour: unknown member; the members here are schema, record, sections, salts, check, follow_ups",
        ),
        (file(record={**signed(), "schema": "x"}), 'record.schema: expected "signed-record/1", got "x"'),
        (
            file(sections={**SECTIONS, "notes": "other"}),
            "sections.notes: this is not the section that was signed",
        ),
        (
            file(sections={**SECTIONS, "notes": 2.5}),
            "sections.notes: this is not the section that was signed",
        ),
        (file(salts={**SALTS, "notes": 5}), "sections.notes: this is not the section that was signed"),
        (file(record={**signed(), "answers": [2.5]}), "record: this has no canonical form: 2.5 is a number"),
        (file(follow_ups=[{"kind": "gossip"}]), "follow_ups[0].kind: expected one of copy-given, "),
        (file(record={**signed(), "record": {"number": 5}}), "record.record.number: expected text"),
    ],
)
def test_what_is_no_record_file_ends_in_a_fault_with_its_path(data, message):
    assert faults(data, read_record_file)[0].startswith(message)
