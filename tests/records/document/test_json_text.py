import json

import pytest

from records.document.reader import read
from tests.records.document.documents import document, faults

START = b'{"schema": "treatment-document/1", "record": {}, '

REFUSED = [
    (b"", "document: this is not JSON: line 1, column 1 cannot be read"),
    (b"moss", "document: this is not JSON: line 1, column 1 cannot be read"),
    (START + b'\n"notes": }', "document: this is not JSON: line 2, column 10 cannot be read"),
    (START + b'"notes": "x"} {}', "document: this is not JSON: line 1, column 64 cannot be read"),
    (b"\xef\xbb\xbf{}", "document: this begins with a byte order mark; save it as UTF-8 without one"),
    (START + b'"notes": "\xe9"}', "document: this is not UTF-8 text (byte 59 cannot be read)"),
    ('{"a": 1}'.encode("utf-16"), "document: this is not UTF-8 text (byte 0 cannot be read)"),
    (START + b'"site": {"use": "public", "use": "school"}}',
     'site: "use" is written more than once in the same object; keep one'),
    (START + b'"notes": NaN}', "document: NaN is not a JSON value"),
    (START + b'"notes": -Infinity}', "document: -Infinity is not a JSON value"),
    (START + b'"notes": 1e999}', "notes: Infinity is not a JSON value"),
    (START + b'"notes": "\\ud83d"}',
     "notes: this text holds half of a character (a lone surrogate); type the character again"),
    (START + b'"\\ud83d": 1}',
     "document: this text holds half of a character (a lone surrogate); type the character again"),
    (START + b'"notes": ' + b"[" * 30 + b"]" * 30 + b"}",
     "document: this is nested more than 20 levels deep"),
    (START + b'"notes": ' + b"[" * 100_000, "document: this is nested more than 20 levels deep"),
    (START + b'"notes": ' + b"9" * 5000 + b"}",
     'document: a number in this has too many digits; write numbers as text, for example "2.5"'),
]  # fmt: skip


@pytest.mark.parametrize(("data", "message"), REFUSED, ids=[message[:50] for _, message in REFUSED])
def test_what_is_no_strict_json_ends_in_one_clear_fault(data, message):
    assert faults(data) == [message]


@pytest.mark.parametrize("value", ["[]", "null", "5", '"moss"', "true"])
def test_json_that_is_no_object_is_refused_with_the_members_named(value):
    (message,) = faults(value)
    assert message.startswith("document: expected an object with members (schema, record, firm,")
    assert message.endswith(f"got {value}")


def test_a_note_of_ten_megabytes_is_refused_before_it_is_parsed(monkeypatch):
    monkeypatch.setattr(json, "loads", None)
    note = START + b'"notes": "' + b"x" * 10_000_000 + b'"}'
    assert faults(note) == [f"document: this is {len(note)} bytes; at most 1048576 bytes are read"]


def test_the_size_is_counted_in_bytes_not_in_characters():
    (message,) = faults('{"notes": "' + "ñ" * 600_000 + '"}')
    assert message.startswith("document: this is 1200013 bytes")


def test_a_text_of_quotation_marks_that_never_ends_is_looked_through_once():
    (message,) = faults('{"notes": "' + '\\"' * 500_000)
    assert message.startswith("document: this is not JSON")


def test_brackets_within_text_are_no_nesting():
    assert read({**document(), "notes": "[" * 100 + '"\\{'}).notes.startswith("[[[")
    assert faults(json.dumps({**document(), "notes": "[" * 100 + '"\\{'})) == []


def test_an_object_already_parsed_is_looked_through_as_strictly():
    parsed = {"schema": "treatment-document/1", "record": {}}
    deep: object = "x"
    for _ in range(30):
        deep = [deep]
    assert faults({**parsed, "notes": deep}) == ["document: this is nested more than 20 levels deep"]
    assert faults({**parsed, "notes": float("nan")}) == ["notes: NaN is not a JSON value"]
    assert faults({**parsed, "notes": {1, 2}})[0].startswith('notes: "{1, 2}" is not a JSON value')
    assert faults({**parsed, 5: "x"}) == ["document: 5 is not a JSON value"]
    assert faults({**parsed, "notes": "\ud83d"})[0].startswith("notes: this text holds half of a character")
    assert faults({**parsed, "notes": "x" * 2_000_000})[0].startswith("document: this is 2000")


def test_a_strange_name_of_a_member_does_not_break_the_line_of_its_fault():
    (message,) = faults({"schema": "treatment-document/1", "record": {}, "a\nb": 1})
    assert message.startswith('"a\\nb": unknown member')
