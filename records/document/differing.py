"""Where two documents differ: the members, deepest first named, items of lists by their ids."""

from collections.abc import Iterator
from itertools import islice
from typing import Any

MOST = 20


def differing(one: Any, other: Any, most: int | None = MOST) -> list[str]:
    """The paths of the members that are not the same in both (JSON); `most` of them, or all."""
    return list(islice(_differing(one, other, ""), most))


def _differing(one: Any, other: Any, path: str) -> Iterator[str]:
    if one == other:
        return
    if isinstance(one, dict) and isinstance(other, dict) and "unit" not in one:
        for name in sorted(one.keys() | other.keys()):
            yield from _differing(one.get(name), other.get(name), f"{path}.{name}" if path else name)
    elif _has_ids(one) and _has_ids(other):
        yield from _differing_items(one, other, path)
    else:
        yield path


def _differing_items(one: list[Any], other: list[Any], path: str) -> Iterator[str]:
    ones, others = ({item["id"]: item for item in items} for items in (one, other))
    if ones.keys() == others.keys() and list(ones) != list(others):
        yield path
    for item_id in dict.fromkeys([*ones, *others]):
        yield from _differing(ones.get(item_id), others.get(item_id), f"{path}[{item_id}]")


def _has_ids(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(item, dict) and "id" in item for item in value)
