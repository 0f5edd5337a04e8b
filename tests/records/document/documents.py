"""The documents under `fixtures/documents`, and copies of them with something changed."""

import json
from copy import deepcopy
from pathlib import Path
from typing import Any

from records.document.faults import DocumentFaults
from records.document.reader import read

FOLDER = Path(__file__).parents[3] / "fixtures" / "documents"
NAMES = ("example", "metric", "stood-down", "full")


def document(name: str = "example") -> dict[str, Any]:
    return json.loads((FOLDER / f"{name}.json").read_text("utf-8"))


def changed(changes: dict[str, Any], name: str = "example") -> dict[str, Any]:
    """A document with members changed, each by its path with indices (`surfaces[0].treated_area`)."""
    copy = deepcopy(document(name))
    for path, value in changes.items():
        *way, last = (
            int(key) if key.isdigit() else key for key in path.replace("]", "").replace("[", ".").split(".")
        )
        owner = copy
        for key in way:
            owner = owner[key]
        owner[last] = value
    return copy


def faults(data: object, reading=read, language: str = "en") -> list[str]:
    """What the reader says of it; empty if it reads."""
    try:
        reading(data)
    except DocumentFaults as error:
        return [fault.say(language) for fault in error.faults]
    return []
