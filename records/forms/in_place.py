"""What a page that saves in place has to draw, and what to take off it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from records.forms.bound import Field, Item, TickList, lists_of, slug_of
from records.forms.posted import Posted
from records.forms.ticks_told import is_told


def is_redrawn(posted: Posted, field: Field) -> bool:
    """Whether the page shows something else than is kept (a colleague's change, a unit as typed) or offered."""
    return posted.changed_elsewhere(field) or posted.has_other_unit(field) or posted.has_other_offer(field)


@dataclass(frozen=True)
class TicksInPlace:
    """`drawn` are the boxes that show something else than there is, `known` the words of those that are right
    and that the page has to know as ticked or not. `new` are the items that the page does not have yet; `gone`
    the ids of elements that it has and that are no more: `item-…` of an item, `f-…` of the tick that says
    there is none."""

    list: TickList
    drawn: Sequence[tuple[str, str]]
    known: Sequence[str]
    new: Sequence[Item]
    gone: Sequence[str]
    none_is_new: bool


def ticks_in_place(posted: Posted, blocks: Sequence[Any]) -> list[TicksInPlace]:
    """The lists of ticks as they are now, against the page that was posted."""
    return [_in_place(posted, each) for each in lists_of(blocks) if isinstance(each, TickList)]


def _in_place(posted: Posted, ticks: TickList) -> TicksInPlace:
    there = _items_on_page(posted, ticks)
    now = {item.path: item for item in ticks.items}
    none_there = f"was:{ticks.path}" in posted.data
    gone = [f"item-{slug_of(path)}" for path in there if path not in now]
    if none_there and not ticks.none:
        gone.append(f"f-{slug_of(ticks.path)}-none")
    new = [item for path, item in now.items() if path not in there]
    drawn, known = _boxes(posted, ticks)
    return TicksInPlace(ticks, drawn, known, new, gone, bool(ticks.none) and not none_there)


def _boxes(posted: Posted, ticks: TickList) -> tuple[list[tuple[str, str]], list[str]]:
    shown, now = (set(posted.data.getlist(f"{name}:{ticks.path}")) for name in ("ticked", "tick"))
    there = set(ticks.ticked)
    told = {word for word in there if is_told(ticks, word)}
    words = [each for _title, group in (*ticks.groups, *ticks.others) for each in group]
    drawn = [each for each in words if each[0] in (now ^ there) | told]
    known = [word for word, _label in words if word in (shown ^ there) - (now ^ there) - told]
    return drawn, known


def _items_on_page(posted: Posted, ticks: TickList) -> list[str]:
    begin = f"was:{ticks.path}["
    asked = (name.removeprefix("was:") for name in posted.data if name.startswith(begin))
    return list(dict.fromkeys(path[: path.index("]") + 1] for path in asked if "]" in path))
