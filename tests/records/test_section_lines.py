"""The lines that a record's sections are kept as: hashed as they are stored, taken out line by line."""

import pytest

from records.document.section_lines import lines_of, look_at_lines, opened, without
from shared.digests import salted_section_digest

SECTIONS = {
    "site": {"name": 'Gíbson\n\u2028 \u0000 "quoted", 5'},
    "notes": "rinsed",
    "targets": ["moss", "algae"],
}
SALTS = {"site": "a1", "notes": "b2", "targets": "c3"}
LINES = lines_of(SECTIONS, SALTS)
BOUND = {name: salted_section_digest(name, SALTS[name], SECTIONS[name]) for name in sorted(SECTIONS)}


def found(lines: bytes) -> tuple[list[tuple[str, str]], list[str]]:
    faults, gone = look_at_lines(BOUND, lines)
    return [(fault.path, fault.wording) for fault in faults], gone


def test_what_is_written_comes_out_again():
    assert (opened(LINES).sections, opened(LINES).salts) == (SECTIONS, SALTS)
    assert (opened(b"").sections, opened(b"").salts) == ({}, {})


def test_the_bytes_are_those_that_the_digests_are_over():
    assert found(LINES) == ([], [])


def test_a_section_that_is_taken_out_is_gone_and_the_rest_holds():
    kept = without(LINES, {"site"})
    assert found(kept) == ([], ["site"])
    assert opened(kept).sections == {name: part for name, part in SECTIONS.items() if name != "site"}
    assert found(without(LINES, set(SECTIONS))) == ([], sorted(SECTIONS))


def test_a_section_twice_is_named_and_hides_none_that_is_gone():
    first, second, *_ = LINES.split(b"\n")
    assert found(LINES.replace(second, first)) == ([("sections.notes", "signed/twice")], ["site"])


def test_a_section_that_nobody_signed_is_named():
    assert found(LINES + b'\n["zeal","d4",1]') == ([("sections.zeal", "signed/section_not_bound")], [])


@pytest.mark.parametrize("at", range(len(LINES)))
def test_no_byte_changes_unseen(at):
    changed = bytearray(LINES)
    changed[at] ^= 1
    assert found(bytes(changed)) != ([], [])
