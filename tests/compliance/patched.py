"""Lay changes on a plain document: `{"weather.readings[0].wind_speed": None}` takes the member away."""

import copy
import json
import re
from pathlib import Path
from typing import Any

FIXTURES = Path(__file__).parents[2] / "fixtures"
_PART = re.compile(r"([a-z0-9_]+)|\[(\d+)\]")


def load(name: str) -> dict[str, Any]:
    """A JSON file of the fixtures."""
    return json.loads((FIXTURES / name).read_text(encoding="utf-8"))


def patched(document: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """A copy of the document with each path set to its value; None leaves the member out."""
    result = copy.deepcopy(document)
    for path, value in changes.items():
        *above, last = [int(index) if index else name for name, index in _PART.findall(path)]
        place: Any = result
        for part in above:
            place = place[part]
        if value is None and isinstance(place, dict):
            del place[last]
        elif isinstance(place, list) and last == len(place):
            place.append(value)
        else:
            place[last] = value
    return result
