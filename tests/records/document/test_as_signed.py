"""What was signed is read again without a look for faults, and says what the strict reader finds in it."""

import json

import pytest

from records.document.as_signed import as_signed
from records.document.members import members_of
from records.document.reader import read
from records.document.section_lines import line_of, lines_of
from records.document.types import Part, TreatmentDocument
from tests.compliance.patched import load

EXAMPLES = ("example", "full", "metric", "stood-down")
LEFT_OUT = ("min", "max")
NAMES = tuple(name for name in members_of(TreatmentDocument) if name not in ("schema", "record"))


def kept(document):
    sections = {name: section for name, section in document.items() if name != "record"}
    record = {"schema": "signed-record/1", "record": document["record"], "signatures": [{"by": "R. Osei"}]}
    return json.dumps(record).encode(), lines_of(sections, dict.fromkeys(sections, "0" * 32))


def same(found, strict) -> bool:
    if isinstance(strict, Part):
        names = [name for name in type(strict).model_fields if name not in LEFT_OUT]
        return all(same(getattr(found, name), getattr(strict, name)) for name in names)
    if isinstance(strict, list):
        return len(found) == len(strict) and all(map(same, found, strict))
    return type(found) is type(strict) and found == strict


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_member_but_the_bounds_of_limits_is_as_the_strict_reader_has_it(name):
    document = load(f"documents/{name}.json")
    strict, found = read(document), as_signed(*kept(document), NAMES)
    members = [each for each in TreatmentDocument.model_fields if each != "schema_"]
    assert [each for each in members if not same(getattr(found, each), getattr(strict, each))] == []


def test_a_section_that_was_erased_or_not_asked_for_is_not_there():
    record, lines = kept(load("documents/example.json"))
    without_site = b"\n".join(line for line in lines.split(b"\n") if not line.startswith(b'["site"'))
    found = as_signed(record, without_site, ("site", "timing"))
    assert (found.site, found.mixes) == (None, None)
    assert found.timing.started_at


def test_a_line_is_found_by_the_whole_name_of_its_section_wherever_it_stands():
    sections = {"a": "b", "ab": ['["abc",'], "abc": 1, "z": None}
    lines = lines_of(sections, dict.fromkeys(sections, "salt"))
    assert {name: json.loads(line_of(lines, name))[2] for name in sections} == sections
    assert line_of(lines, "b") is None and line_of(b"", "a") is None


def test_bytes_that_were_never_signed_are_refused():
    record, lines = kept(load("documents/example.json"))
    with pytest.raises(ValueError, match="Expected"):
        as_signed(record, lines.replace(b'"treated_area":{', b'"treated_area":7,"x":{'), ("surfaces",))
