"""Where what was left out is named all the same: in another section, by a signature, in a follow-up. Pure."""

import json
from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any

from shared.folded import sought

NAMES = ("name", "email", "phone", "line1", "policy", "holder", "description", "reported_to")
SHORTEST = 4
"""Shorter words stand anywhere."""
_ELSEWHERE = ("signatures", "answers", "record")


WHO_ELSE = ("notices", "incidents")
"""Here the customer and who worked are named along with others."""
HANDED_OVER = ("customer", "people")
SHOWN = 3
"""So many versions are named of each part that holds what was left out."""


def names_in(sections: Mapping[str, Any]) -> dict[str, str]:
    """The names, addresses and numbers that stand there: folded, and as they are written."""
    return {_folded(each): each for section in sections.values() for each in _names(section)}


def names_left_out(sections: Mapping[str, Any], withheld: Collection[str]) -> dict[str, str]:
    """Those of what is left out. Who was told and is handed over as customer or worker was not left out."""
    own = {name: part for name, part in sections.items() if name in withheld and name not in WHO_ELSE}
    told = {name: part for name, part in sections.items() if name in withheld and name in WHO_ELSE}
    given = names_in({name: sections[name] for name in HANDED_OVER if name in sections.keys() - set(withheld)})
    return {key: name for key, name in names_in(told).items() if key not in given} | names_in(own)


def where_named(names: Iterable[str], file: Mapping[str, Any]) -> Iterator[str]:
    """The sections that hold one of them, and `signatures`, `answers`, `record` and `follow_ups`."""
    return (part for part, held in _parts(file) if holds(names, held))


def named_there(names: Mapping[str, str], file: Mapping[str, Any], part: str) -> list[str]:
    """Which of them stand in this part, as they are written."""
    held = dict(_parts(file)).get(part)
    return sorted(name for key, name in names.items() if holds([key], held))


class Still:
    """In how many versions each part names what was left out, and the first of them."""

    def __init__(self) -> None:
        self.found: dict[str, dict[str, Any]] = {}

    def add(self, parts: Iterable[str], treatment: str, version: int) -> None:
        for part in parts:
            found = self.found.setdefault(part, {"versions": 0, "first": []})
            found["versions"] += 1
            if len(found["first"]) < SHOWN:
                found["first"].append([treatment, version])


def holds(names: Iterable[str], value: Any) -> bool:
    text = sought(json.dumps(value, ensure_ascii=False))
    return any(name in text for name in names)


def _parts(file: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    yield from file["sections"].items()
    for part in _ELSEWHERE:
        yield part, file["record"].get(part)
    yield "follow_ups", file.get("follow_ups")


def _folded(name: str) -> str:
    """As it stands in JSON."""
    return sought(json.dumps(name, ensure_ascii=False)[1:-1])


def _names(value: Any) -> Iterator[str]:
    if isinstance(value, list):
        for each in value:
            yield from _names(each)
    elif isinstance(value, Mapping):
        for name, each in value.items():
            if isinstance(each, str) and name in NAMES and len(each) >= SHORTEST:
                yield each
            else:
                yield from _names(each)
