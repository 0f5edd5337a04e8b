import json

import pytest

from records.document.canonical import as_json
from records.document.entry import Entry, SupersededBy
from records.document.record_file import is_record_file, read_record_file, record_file
from records.document.signed_record import record_digest
from tests.records.document.documents import faults
from tests.records.document.record_files import RECORD, STORED, file, follow_up
from tests.records.document.test_signed_record import DOCUMENT, SALTS, SECTIONS, signed


def test_a_record_file_reads_back_as_the_document_that_was_signed():
    read = read_record_file(json.dumps(file()))
    assert read.document == DOCUMENT
    assert read.digest == record_digest(RECORD)
    assert read.signatures == RECORD["signatures"]
    assert read.check == STORED
    assert [as_json(one) for one in read.follow_ups] == [follow_up()]
    assert read.withheld == {}
    assert read.verified
    assert (read.entry, read.superseded_by) == (Entry(), None)


def test_a_record_file_says_what_it_was_taken_in_as_and_what_came_since():
    entry = {"kind": "corrected", "received_at": "2026-09-14T17:07:14+00:00"}
    later = {"version": 3, "digest": "sha256:" + "ab" * 32, "kind": "void"}
    read = read_record_file(file(entry=entry, superseded_by=later))
    assert as_json(read.entry) == entry
    assert read.superseded_by == SupersededBy(**later)


def test_without_keys_a_record_file_reads_but_is_not_verified():
    assert not read_record_file(file(keys={})).verified


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


def test_every_section_may_be_withheld():
    assert read_record_file(record_file(signed(), {}, SALTS)).document.record == DOCUMENT.record


@pytest.mark.parametrize(
    ("data", "message"),
    [
        ("{", "document: this is not JSON: line 1, column 2 cannot be read"),
        (
            "[]",
            "document: expected an object with members (schema, record, sections, salts, check, follow_ups, "
            "keys, entry, superseded_by, erased, seal, key_changes, log), got []",
        ),
        (file(schema="record-file/2"), 'schema: expected "record-file/1", got "record-file/2"'),
        (file(salts=None), "salts: this must be there"),
        (file(sections=[]), "sections: this cannot stand here: []"),
        (
            file(colour="red"),
            "colour: unknown member; the members here are schema, record, sections, salts, check, follow_ups",
        ),
        (file(record={**RECORD, "schema": "x"}), 'record.schema: expected "signed-record/1", got "x"'),
        (
            file(sections={**SECTIONS, "notes": "other"}),
            "sections.notes: this is not the section that was signed",
        ),
        (
            file(sections={**SECTIONS, "notes": 2.5}),
            "sections.notes: this is not the section that was signed",
        ),
        (file(salts={**SALTS, "notes": 5}), "sections.notes: this is not the section that was signed"),
        (file(record={**RECORD, "answers": [2.5]}), "record: this has no canonical form: 2.5 is a number"),
        (file(entry={"kind": "lost"}), "entry.kind: expected one of signed, corrected, void"),
        (file(superseded_by={"version": "two"}), "superseded_by.version: "),
        (file(follow_ups=[{"kind": "gossip"}]), "follow_ups[0].kind: expected one of copy-given, "),
        (
            file(keys={}, follow_ups=[], record={**RECORD, "record": {"number": 5}}),
            "record.record.number: expected text",
        ),
    ],
)
def test_what_is_no_record_file_ends_in_a_fault_with_its_path(data, message):
    assert faults(data, read_record_file)[0].startswith(message)
