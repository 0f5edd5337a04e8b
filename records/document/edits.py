"""Edits of a working document by path: several people, several phones, nothing dropped.

Edits merge member by member and item by item. Where the same member was changed since the revision that an
edit was made on, both values are kept: the one in the document, and the edit in a conflict. A value that
cannot be read, or would leave the document with a fault, is kept as typed beside the document, which so
stays readable at every moment.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from records.document.faults import DocumentFaults, Fault
from records.document.json_text import look_through
from records.document.kind import shown
from records.document.members import member_at
from records.document.reader import DOCUMENT_BOUNDS
from records.document.working import Unread, Working

MOST_EDITS = 200
LONGEST_PATH = 400


@dataclass(frozen=True)
class Edit:
    """A value for a path (None takes the member or item out), made on a revision of the document.

    `id` is made where the edit is made; an edit that comes again under its id changes nothing.
    """

    id: str
    path: str
    value: object
    base_revision: int


@dataclass(frozen=True)
class AppliedEdit:
    """An edit in the document's log, and the revision that it made."""

    id: str
    path: str
    value: object
    revision: int


@dataclass(frozen=True)
class Conflict:
    """An edit that was not applied: the same member was changed at `changed_in`, and now holds `current`."""

    edit: Edit
    current: object
    changed_in: int


@dataclass(frozen=True)
class Outcome:
    """The document after the edits. `applied` are new log entries, `unread` replaces what was kept unread."""

    document: dict[str, Any]
    revision: int
    applied: list[AppliedEdit]
    conflicts: list[Conflict]
    unread: Unread


def apply(
    document: dict[str, Any],
    revision: int,
    log: Sequence[AppliedEdit],
    edits: Sequence[Edit],
    unread: Mapping[str, dict[str, Any]] | None = None,
) -> Outcome:
    """The document with these edits, in their order; nothing that is passed in is changed.

    `log` must hold the entries since the oldest base revision among the edits, and those that have the id of
    one of the edits. Edits that come together are one person's, so they do not conflict with each other, nor
    with entries that came of an edit that is sent again with them. Raises DocumentFaults, with nothing done,
    for more edits than MOST_EDITS, a path that names no member, a value that is no JSON or larger than a
    document may be, and for more that cannot be read than is kept.
    """
    refuse_unfit(edits)
    working = Working(document, unread or {})
    seen, together = {entry.id for entry in log}, {edit.id for edit in edits}
    others = [(entry, _touched(entry.path, entry.value)) for entry in log if entry.id not in together]
    waiting: list[Edit] = []
    taken: list[Edit] = []
    conflicts = []
    for edit in edits:
        if edit.id in seen:
            continue
        if rival := _rival(edit, others):
            working.take(waiting)
            waiting = []
            if not working.already_holds(edit):
                conflicts.append(Conflict(edit, working.current(edit.path), rival.revision))
                continue
        seen.add(edit.id)
        waiting.append(edit)
        taken.append(edit)
    working.take(waiting)
    if taken:
        working.take_up_unread()
    applied = [
        AppliedEdit(edit.id, edit.path, edit.value, made) for made, edit in enumerate(taken, revision + 1)
    ]
    return Outcome(working.document, revision + len(taken), applied, conflicts, working.unread)


def refuse_unfit(edits: Sequence[Edit]) -> None:
    """Raise DocumentFaults for edits that could not even be kept unread; it needs no document."""
    if len(edits) > MOST_EDITS:
        blanks = {"most": str(MOST_EDITS), "count": str(len(edits))}
        raise DocumentFaults([Fault("", "edit/too_many", blanks)])
    if faults := [fault for edit in edits for fault in _unfit(edit)]:
        raise DocumentFaults(faults)


def _unfit(edit: Edit) -> Iterator[Fault]:
    try:
        if len(edit.path) > LONGEST_PATH:
            raise KeyError(edit.path)
        member_at(edit.path)
    except KeyError:
        yield Fault("", "edit/not_a_path", {"path": shown(edit.path)})
        return
    try:
        look_through(edit.value, DOCUMENT_BOUNDS, edit.path)
    except DocumentFaults as error:
        yield from error.faults


def _rival(edit: Edit, entries: Iterable[tuple[AppliedEdit, list[str]]]) -> AppliedEdit | None:
    """The last entry since the edit's base that touched the same member, one in it or one around it.

    `entries` come with what each has touched.
    """
    mine = _touched(edit.path, edit.value)
    rivals = [
        entry
        for entry, touched in entries
        if entry.revision > edit.base_revision and _overlap(mine, touched)
    ]
    return max(rivals, key=lambda entry: entry.revision, default=None)


def _touched(path: str, value: object) -> list[str]:
    """The path in parts. Taking an item out by index moves all that follow, so it touches the whole list."""
    parts = re.findall(r"[^.\[\]]+", path)
    return parts[:-1] if value is None and parts and parts[-1].isdigit() else parts


def _overlap(one: list[str], other: list[str]) -> bool:
    shorter = min(len(one), len(other))
    return one[:shorter] == other[:shorter]

