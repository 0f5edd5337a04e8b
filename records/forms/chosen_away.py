"""Rows and left-overs that a device has chosen without a connection: the service writes them, as ever."""

import json
import uuid
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.http import Http404
from django.utils.translation import gettext as _

from records.document.edits import Conflict, Edit
from records.forms.begun import MOST
from records.forms.bound import ItemList, lists_of, slug_of
from records.forms.choices import new_item
from records.forms.draw import mix_of_left_over
from records.forms.kept_choices import shown_as
from records.forms.posted import LONGEST_OUT, Posted

_EDITS = uuid.UUID("d0c5f1f2-8a37-4b3e-9a55-5c0f2d6b7e14")
_TOLD = ("path", "id", "on", "as")


@dataclass(frozen=True)
class ChosenAway:
    """One row that was chosen: its item's path, and the edit that writes it, if any.

    `name` is of a row that says something else by now than the device has shown; `gone` of none at all.
    """

    path: str
    edits: tuple[Edit, ...] = ()
    name: str = ""
    gone: bool = False

    @property
    def slug(self) -> str:
        return f"chosen-{slug_of(self.path)}"

    def unless_in(self, conflicts: Sequence[Conflict]) -> "ChosenAway":
        """Gone where somebody else has taken it out meanwhile."""
        return replace(self, gone=True) if any(each.edit in self.edits for each in conflicts) else self


def chosen_away(posted: Posted, blocks: Sequence[Any], setting: dict[str, Any]) -> list[ChosenAway]:
    """What was chosen for lists in `blocks` whose items are written from rows or left-overs, each once."""
    lists = {each.path: each for each in lists_of(blocks) if isinstance(each, ItemList)}
    told = {each["path"]: each for each in _told(posted)}
    return [
        _chosen(each, lists[path], posted, setting)
        for each in told.values()
        if (path := each["path"].rpartition("[")[0]) in lists and _offers(lists[path], each)
    ]


def _offers(into: ItemList, told: dict[str, str]) -> bool:
    return bool(into.table.chosen_from) or (into.path == "mixes" and isinstance(told.get("key"), str))


def _told(posted: Posted) -> Iterator[dict[str, str]]:
    for text in posted.data.getlist("choose")[:MOST]:
        try:
            told = json.loads(text)
            json.dumps(told, ensure_ascii=False).encode()  # half a character is no text
        except (ValueError, RecursionError):
            continue
        if isinstance(told, dict) and all(isinstance(told.get(name), str) for name in _TOLD):
            yield told


def _chosen(told: dict[str, str], into: ItemList, posted: Posted, setting: dict[str, Any]) -> ChosenAway:
    """An item that is there stays as it is; its edit comes again, so that what is typed into it is no rival of
    its own beginning."""
    path, row = told["path"], told["path"].rpartition("[")[2].removesuffix("]")
    edit_id = str(uuid.uuid5(_EDITS, f"{path}:{told['id']}"))
    there = next((item.value for item in into.items if item.path == path), None)
    if there is not None:
        return ChosenAway(path, (Edit(edit_id, path, there, posted.base_revision),))
    item = _item(told, into, row, setting)
    if item is None or item["id"] != row:
        return ChosenAway(path, gone=True)
    edit = Edit(edit_id, path, item, posted.base_revision)
    return ChosenAway(path, (edit,), "" if shown_as(item) == told["as"] else item.get("name", _("Left over")))


def _item(told: dict[str, str], into: ItemList, row: str, setting: dict[str, Any]) -> dict[str, Any] | None:
    """As it is written now, None where there is no such row or left-over."""
    if not into.table.chosen_from:
        return mix_of_left_over(told["key"], setting)
    try:
        return new_item(into.table.chosen_from, setting["firm"], row, _day(told["on"], setting["day"]))
    except Http404:
        return None


def _day(told: str, today: date) -> date:
    """The day on which it was chosen, if a device may have been away since then."""
    try:
        day = date.fromisoformat(told)
    except ValueError:
        return today
    return day if today - LONGEST_OUT <= day <= today else today
