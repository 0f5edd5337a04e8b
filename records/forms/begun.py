"""Items that a device has begun by itself while there was no connection."""

import re
import uuid
from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy
from dataclasses import replace
from typing import Any

from records.document.edits import Edit
from records.document.placing import place, value_at
from records.forms.bound import ItemList, lists_of
from records.forms.posted import Posted

MOST = 50
"""Of one page, and of one list: a device begins no more."""
_ID = r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}"
_BEGUN = re.compile(rf"(?P<list>.+)\[(?P<id>{_ID})\]")
_PUT_INTO = ("choose", "draw-away")
_EDITS = uuid.UUID("b7f1c1f0-6a0e-4f43-9d8e-0a52c3f5be60")


def begin_all(
    posted: Posted, document: dict[str, Any], bind: Callable[[dict[str, Any]], list[Any]]
) -> tuple[list[Edit], list[Any]]:
    """The edits that begin the posted items, an outer one before those in it, and the page with them on it."""
    begun: list[Edit] = []
    blocks = bind(document)
    while fresh := [each for each in beginnings(posted, blocks) if each not in begun]:
        begun += fresh
        blocks = bind(with_begun(document, begun))
    return begun, blocks


def beginnings(posted: Posted, blocks: Sequence[Any]) -> list[Edit]:
    """The edits that begin the posted items, of lists in `blocks` whose items a device may begin.

    An item is begun by the same edit whichever page sends it, so that it is begun once, and not again after
    somebody has removed it; what is typed into it comes together with it and so is in no conflict with it.
    """
    lists = {
        each.path
        for each in lists_of(blocks)
        if isinstance(each, ItemList) and _may_begin(each) and len(each.items) < MOST
    }
    found = (_BEGUN.fullmatch(path) for path in dict.fromkeys(posted.data.getlist("begin")[:MOST]))
    return [
        _beginning(item[0], item["id"], posted)
        for item in found
        if item and item["list"] in lists and _is_typed_into(item[0], posted)
    ]


def made_now(
    edits: Sequence[Edit], begun: Sequence[Edit], document: dict[str, Any], revision: int
) -> list[Edit]:
    """The edits, those of items that begin now on this revision: what was said of the list before they were
    there, that it has none say, is no rival of them."""
    new = tuple(each.path for each in begun if value_at(document, each.path) is None)
    return [replace(each, base_revision=revision) if each.path.startswith(new) else each for each in edits]


def _may_begin(items: ItemList) -> bool:
    """Whether a device may begin an empty item; one that is written from a row is chosen instead."""
    return bool(items.pattern and not items.table.chosen_from)


def _is_typed_into(path: str, posted: Posted) -> bool:
    """Whether something stands in one of the item's inputs, a unit or a day that stood there at first apart, or
    a button of it was pressed, or something was chosen or drawn into it."""
    if any(posted.data.get(action, "").startswith(path) for action in ("see", "now", "as-before")):
        return True
    if any(f'"{path}' in told for name in _PUT_INTO for told in posted.data.getlist(name)):
        return True
    names = (name for name in posted.data if name.startswith((f"v:{path}.", f"t:{path}.")))
    return any(text for name in names for text in posted.data.getlist(name))


def with_begun(document: Mapping[str, Any], edits: Sequence[Edit]) -> dict[str, Any]:
    """The document as it is with the items begun, for reading what was typed into them."""
    begun = deepcopy(dict(document))
    for edit in edits:
        if value_at(begun, edit.path) is None:
            place(begun, edit.path, edit.value)
    return begun


def _beginning(path: str, item_id: str, posted: Posted) -> Edit:
    return Edit(_edit_id(path), path, {"id": item_id}, posted.base_revision)


def _edit_id(path: str) -> str:
    return str(uuid.uuid5(_EDITS, path))


def id_told(posted: Posted) -> str:
    """The id under which a device asks for a new item, "" where it tells none."""
    told = posted.data.get("add-as", "")
    return told if re.fullmatch(_ID, told) else ""


def added_once(edit: Edit, items: str, posted: Posted) -> Edit:
    """The edit that adds an item to the list `items`, the same one however often it is asked for under the id
    that the device tells, and also where the device, whose answer was lost, begins that item by itself."""
    told = id_told(posted)
    return replace(edit, id=_edit_id(f"{items}[{told}]")) if told else edit
