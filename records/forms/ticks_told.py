"""From posted ticks to edits. A tick is what one person says of one moment; none replaces another's."""

import uuid
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from records.document.edits import Edit
from records.forms.bound import Item, TickList, lists_of
from records.forms.posted import EDITS, LONGEST_OUT, Posted, revision_in
from shared.times import TimeError, read_time


def tick_edits(posted: Posted, blocks: Sequence[Any], revision: int) -> list[Edit]:
    """What was ticked on the page adds an entry, what was unticked takes out the person's own.

    The same tick is the same entry whichever page sends it, so that it is there once, and not again after
    somebody has taken it out. It is made on the document's `revision`: it was done, whatever was said since.
    """
    posted_lists = posted.data.getlist("ticks")
    lists = (each for each in lists_of(blocks) if isinstance(each, TickList) and each.path in posted_lists)
    return [edit for ticks in lists for edit in (*_ticked(posted, ticks, revision), *_unticked(posted, ticks))]


@dataclass(frozen=True)
class StillTicked:
    """A step that was unticked on the page and of which there are entries all the same; `who` made them."""

    title: str
    who: str


def still_ticked(posted: Posted, blocks: Sequence[Any]) -> list[StillTicked]:
    lists = (each for each in lists_of(blocks) if isinstance(each, TickList))
    return [
        StillTicked(items[0].title, said_of(items))
        for ticks in lists
        for word in sorted(_taken_back(posted, ticks))
        if (items := entries_of(ticks, word))
    ]


def said_of(items: Sequence[Item]) -> str:
    """Who made the entries, and when."""
    return ", ".join(_said(item.value.get("by") or _("somebody"), str(item.value.get("at"))) for item in items)


def _said(name: str, at: str) -> str:
    try:
        return _("%(name)s at %(time)s") % {"name": name, "time": f"{read_time(at):%H:%M}"}
    except TimeError:
        return name


def entries_of(ticks: TickList, word: str) -> list[Item]:
    return [item for item in ticks.items if item.value.get(ticks.table.key) == word]


def is_told(ticks: TickList, word: str) -> bool:
    """Whether a page has to say who ticked it: somebody else, or somebody more than once."""
    entries = entries_of(ticks, word)
    return len(entries) > 1 or not all(is_own(item, ticks) for item in entries)


def is_own(item: Item, ticks: TickList) -> bool:
    """Whether unticking takes it out: it names nobody, or the person who fills in the page."""
    return item.value.get("by") in (None, ticks.begun.get("by"))


def _ticked(posted: Posted, ticks: TickList, revision: int) -> Iterator[Edit]:
    before = set(posted.data.getlist(f"ticked:{ticks.path}"))
    there = {item.path for item in ticks.items}
    for word in sorted(set(posted.data.getlist(f"tick:{ticks.path}"))):
        stamp = posted.data.get(f"tick-at:{ticks.path}:{word}", "")
        if word in before and not stamp:
            continue
        item_id = str(uuid.uuid5(EDITS, _name_of(posted, ticks.path, word, stamp)))
        path = f"{ticks.path}[{item_id}]"
        if path not in there:
            begun = {**ticks.begun, **_ticked_at(stamp, ticks.begun.get("at", ""))}
            value = {"id": item_id, ticks.table.key: word, **begun}
            yield Edit(str(uuid.uuid5(EDITS, path)), path, value, revision)


def _name_of(posted: Posted, path: str, word: str, stamp: str) -> str:
    """By the moment at which a device says that it was ticked, else by the page."""
    if stamp:
        return f"{posted.data.get('person', '')}:{path}:{word}:{stamp}"
    return f"{posted.form}:{path}:{word}:{posted.base_revision}"


def _unticked(posted: Posted, ticks: TickList) -> Iterator[Edit]:
    base = revision_in(posted.data.get(f"base:{ticks.path}", ""))
    gone = _taken_back(posted, ticks)
    for item, word in zip(ticks.items, ticks.ticked, strict=True):
        if word in gone and is_own(item, ticks):
            yield posted.edit(item.path, None, base)


def _taken_back(posted: Posted, ticks: TickList) -> set[str]:
    shown, now = (set(posted.data.getlist(f"{name}:{ticks.path}")) for name in ("ticked", "tick"))
    return shown - now


def _ticked_at(stamp: str, now: str) -> dict[str, str]:
    """When the device says that it was ticked, if that is in the days before the page came in."""
    try:
        at, came_in = read_time(stamp), read_time(now)
    except TimeError:
        return {}
    if not came_in - LONGEST_OUT < at < came_in:
        return {}
    return {"at": at.astimezone(came_in.tzinfo).isoformat(timespec="seconds")}
