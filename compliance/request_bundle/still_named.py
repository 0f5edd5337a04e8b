"""Where what was left out is named all the same: in another section, by a signature, in a follow-up. Pure."""

import json
from collections.abc import Iterator, Mapping
from typing import Any

NAMES = ("name", "email", "phone", "line1", "policy", "holder", "description", "reported_to")
SHORTEST = 4
"""Shorter words stand anywhere."""
_ELSEWHERE = ("signatures", "answers", "record")


def names_in(sections: Mapping[str, Any]) -> set[str]:
    """The names, addresses and numbers of what is left out, folded."""
    return {each for section in sections.values() for each in _names(section)}


def where_named(names: set[str], file: Mapping[str, Any]) -> Iterator[str]:
    """The sections that hold one of them, and `signatures`, `answers`, `record` and `follow_ups`."""
    for name, section in file["sections"].items():
        if holds(names, section):
            yield name
    for part in _ELSEWHERE:
        if holds(names, file["record"].get(part)):
            yield part
    if holds(names, file.get("follow_ups")):
        yield "follow_ups"


def holds(names: set[str], value: Any) -> bool:
    text = json.dumps(value, ensure_ascii=False).casefold()
    return any(name in text for name in names)


def _names(value: Any) -> Iterator[str]:
    if isinstance(value, list):
        for each in value:
            yield from _names(each)
    elif isinstance(value, Mapping):
        for name, each in value.items():
            if isinstance(each, str) and name in NAMES and len(each) >= SHORTEST:
                yield json.dumps(each, ensure_ascii=False)[1:-1].casefold()
            else:
                yield from _names(each)
