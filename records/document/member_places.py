"""Which member of a document a path means, for a person: `Air temperature (Weather readings 2)`."""

import re
from collections.abc import Sequence
from typing import Any

from records.document.member_labels import member_label
from records.document.paths import steps_of

Json = dict[str, Any]
_ITEM = re.compile(r"\[([^\]]+)\]")


def member_said(path: str, language: str, documents: Sequence[Json]) -> str:
    """The member's label, and of which items of lists it is, by their names or where they stand; else, of an
    address and the like, whose it is.

    An item counts as the first of the documents has it that has it.
    """
    owner, *deeper = path.split(".")
    if len(deeper) > 1 and "[" not in path:
        return _with(member_label(path, language), [member_label(owner, language)])
    items = [_item_said(path[: found.end()], language, documents) for found in _ITEM.finditer(path)]
    if path.endswith("]"):
        *items, last = items
        return _with(last, items)
    return _with(member_label(path, language), items)


def _with(label: str, items: list[str]) -> str:
    return f"{label} ({', '.join(items)})" if items else label


def _item_said(path: str, language: str, documents: Sequence[Json]) -> str:
    label = member_label(path, language)
    for document in documents:
        number, item = _item_at(document, path)
        if item:
            return f"{label}: {item['name']}" if "name" in item else f"{label} {number}"
    return label


def _item_at(document: Json, path: str) -> tuple[int, Json | None]:
    """The item and the how-manieth it is, from one; nothing where the document has none."""
    value: Any = document
    number = 0
    for name, selector in steps_of(path):
        value = (value or {}).get(name)
        if selector is not None:
            ids = [item.get("id") for item in value or []]
            number = ids.index(selector) + 1 if selector in ids else 0
            value = value[number - 1] if number else None
    return number, value
