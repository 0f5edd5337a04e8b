"""As it was the last time: what may be taken over from an earlier treatment, offered and never assumed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from records.document.paths import pattern_of, values_at
from records.forms.bound import Field, Item
from records.forms.plain_paths import value_at

Json = Mapping[str, Any]
KNOWN_BY = {
    "people[]": ("id", "name"),
    "mixes[]": ("equipment",),
    "mixes[].products[]": ("registration_number", "name"),
    "weather.readings[]": (),
}
"""By which member an item is the same as one of an earlier treatment; without any, the last one counts."""


@dataclass(frozen=True)
class Before:
    """The values of an earlier treatment for the item's open questions; `at` is when that was."""

    at: str
    values: tuple[tuple[Field, Any], ...]


def of_same_crew(document: Json, earlier: Sequence[Json]) -> list[Json]:
    """Those of the `earlier` documents in which a person or a rig of this one had a part."""
    crew = _crew(document)
    return [each for each in earlier if crew & _crew(each)]


def _crew(document: Json) -> set[Any]:
    named = (values_at(document, pattern) for pattern in ("people[].name", "equipment[].name"))
    return {name for found in named for _path, name in found}


def last_rig(earlier: Sequence[Json]) -> str:
    """The name of the rig of the newest treatment that had one."""
    rigs = (name for document in earlier for _path, name in values_at(document, "equipment[].name"))
    return str(next(rigs, ""))


def before_of(item: Item, earlier: Sequence[Json]) -> Before | None:
    """What the newest of the `earlier` documents (newest first) that knows the item answers to it."""
    pattern = pattern_of(item.path)
    for document in earlier if pattern in KNOWN_BY else ():
        same = _same(document, pattern, item.value)
        values = [(field, value_at(same, field.path.rpartition("].")[2])) for field in item.asks_as_before]
        known = tuple((field, value) for field, value in values if value not in (None, [], ""))
        timing = document.get("timing") or {}
        if known:
            return Before(timing.get("started_at") or timing.get("planned_at") or "", known)
    return None


def _same(document: Json, pattern: str, own: Json) -> Any:
    keys = [key for key in KNOWN_BY[pattern] if own.get(key)]
    found = [item for _path, item in values_at(document, pattern) if isinstance(item, dict)]
    same = [item for item in found if not keys or any(item.get(key) == own[key] for key in keys)]
    return same[-1] if same else {}
