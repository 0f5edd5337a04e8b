"""Draws from a filled tank that a device has made by itself while there was no connection."""

import json
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from records.document.edits import Conflict, Edit
from records.forms.begun import MOST
from records.forms.bound import Item, ItemList, lists_of, slug_of
from records.forms.draw import values_of
from records.forms.posted import Posted
from shared.quantities import QuantityError, of_dimension
from shared.quantities import read as read_quantity

_EDITS = uuid.UUID("5a0f0f5e-6a0b-4f57-8f0e-7c6f1a2b9d33")


@dataclass(frozen=True)
class DrawnAway:
    """One draw: the mix's path, and the edits that make it; `gone` where there is no such tank or mix now."""

    path: str
    edits: tuple[Edit, ...] = ()
    gone: bool = False
    name: str = ""

    @property
    def slug(self) -> str:
        return f"drawn-{slug_of(self.path)}"

    def unless_in(self, conflicts: Sequence[Conflict]) -> "DrawnAway":
        """Gone where somebody else has changed the mix meanwhile."""
        lost = any(conflict.edit in self.edits for conflict in conflicts)
        return DrawnAway(self.path, self.edits, gone=True) if lost else self


def drawn_away(posted: Posted, blocks: Sequence[Any], setting: dict[str, Any]) -> list[DrawnAway]:
    """What was drawn for mixes in `blocks`, each draw once."""
    lists = [each for each in lists_of(blocks) if isinstance(each, ItemList) and each.table.calculator]
    items = {item.path: item for each in lists for item in each.items}
    texts = dict.fromkeys(posted.data.getlist("draw-away")[:MOST])
    return [_drawn(told, items, posted, setting) for text in texts if (told := _told(text))]


def _told(text: str) -> dict[str, Any] | None:
    try:
        told = json.loads(text)
        json.dumps(told, ensure_ascii=False).encode()  # half a character is no text
        told["amount"] = of_dimension(read_quantity(told["amount"]), "volume")
    except (ValueError, TypeError, KeyError, RecursionError, QuantityError):
        return None
    return told if all(isinstance(told.get(name), str) for name in ("path", "key", "id")) else None


def _drawn(told: dict[str, Any], items: dict[str, Item], posted: Posted, setting: dict[str, Any]) -> DrawnAway:
    path, item = told["path"], items.get(told["path"])
    tank = next((tank for tank in setting["tanks"](True) if tank.key == told["key"]), None)
    if item is None or tank is None:
        return DrawnAway(path, gone=True)
    edits = (
        Edit(str(uuid.uuid5(_EDITS, f"{told['id']}:{where}")), where, value, posted.base_revision)
        for where, value in values_of(tank, told["amount"], item, setting)
    )
    return DrawnAway(path, tuple(edits))
