"""The sections of a signed record as they are kept: the very bytes that their digests are over, a line each.

A line is the canonical `["name", "salt", section]`, in the order of the names; canonical JSON has no line break
in it. So whoever looks whether they are the ones that were signed only hashes what is stored.
"""

import json
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from records.document.faults import Fault
from shared.canonical import canonical_bytes

BREAK = b"\n"
_NAMED = "sha256:"


@dataclass(frozen=True)
class Opened:
    """What the lines hold, by the sections' names."""

    sections: dict[str, Any]
    salts: dict[str, str]


def lines_of(sections: Mapping[str, Any], salts: Mapping[str, str]) -> bytes:
    """The lines of these sections. Raises KeyError for a section without a salt."""
    return BREAK.join(canonical_bytes([name, salts[name], sections[name]]) for name in sorted(sections))


def opened(lines: bytes) -> Opened:
    """The sections and salts in the lines. Raises ValueError for what `lines_of` does not write."""
    parts = [json.loads(line) for line in _split(lines)]
    sections = {name: section for name, _salt, section in parts}
    return Opened(sections, {name: salt for name, salt, _section in parts})


def line_of(lines: bytes, name: str) -> bytes | None:
    """The section's line as it is kept; None where it is gone."""
    head = b'["%b",' % name.encode()
    at = 0 if lines.startswith(head) else lines.find(BREAK + head) + 1
    if not at and not lines.startswith(head):
        return None
    end = lines.find(BREAK, at)
    return lines[at:] if end < 0 else lines[at:end]


def without(lines: bytes, names: Collection[str]) -> bytes:
    """The lines of all sections but these."""
    return BREAK.join(line for line in _split(lines) if _name(line) not in names)


def look_at_lines(bound: Mapping[str, Any], lines: bytes) -> tuple[list[Fault], list[str]]:
    """What is not the section whose digest is `bound` (digests in the order of the names), and which sections
    are gone."""
    kept = _split(lines)
    hashed = [sha256(line).digest() for line in kept]
    if b"".join(hashed).hex() == "".join(bound.values()).replace(_NAMED, ""):
        return [], []
    found = {_name(line): _NAMED + each.hex() for line, each in zip(kept, hashed, strict=True)}
    faults = [
        Fault(f"sections.{name}", "signed/section_changed" if name in bound else "signed/section_not_bound")
        for name, each in found.items()
        if bound.get(name) != each
    ]
    names = [_name(line) for line in kept]
    faults += [
        Fault(f"sections.{name}", "signed/twice") for name in sorted(found) if names.count(name) > 1
    ]
    return faults, sorted(bound.keys() - found.keys())


def _split(lines: bytes) -> list[bytes]:
    return lines.split(BREAK) if lines else []


def _name(line: bytes) -> str:
    """The name at a line's head; of a line that was changed, what stands there."""
    return line[2:].partition(b'"')[0].decode(errors="replace")
