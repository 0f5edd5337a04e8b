"""Paths of members: `surfaces[0].treated_area`, `weather.readings[<id>].at`, patterns (`mixes[].loads[]`)."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from records.document.json_text import member_path

_PART = re.compile(r"([a-z][a-z0-9_]*)((?:\[[A-Za-z0-9_-]{0,64}\])?)")

PATHS_AT_HAND = 1000
Step = tuple[str, str | None]
"""A member's name and what stands in its brackets: None without brackets, '' for every item."""


@lru_cache(maxsize=PATHS_AT_HAND)
def steps_of(path: str) -> tuple[Step, ...]:
    """A path as steps. Raises ValueError if it is not the path of a member."""
    steps: list[Step] = []
    for part in path.split("."):
        match = _PART.fullmatch(part)
        if not match:
            raise ValueError(f"not a path: {path}")
        steps.append((match[1], match[2][1:-1] if match[2] else None))
    return tuple(steps)


def pattern_of(path: str) -> str:
    """The path with its brackets emptied: `surfaces[].treated_area`."""
    return re.sub(r"\[[^\[\]]*\]", "[]", path)


def values_at(document: object, pattern: str) -> Iterator[tuple[str, object]]:
    """Every value that is there under a pattern, with its path by indices, in the document's order.

    The document may be of any shape; null members and members that are not there yield nothing.
    """
    return _values(document, steps_of(pattern), "")


def _values(value: object, steps: Sequence[Step], path: str) -> Iterator[tuple[str, object]]:
    if not steps:
        yield path, value
        return
    (name, selector), rest = steps[0], steps[1:]
    member = value.get(name) if isinstance(value, dict) else None
    if member is None:
        return
    here = member_path(path, name)
    if selector is None:
        yield from _values(member, rest, here)
    elif isinstance(member, list):
        for index, item in enumerate(member):
            yield from _values(item, rest, f"{here}[{index}]")
