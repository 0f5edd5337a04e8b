"""Edits of a working document by path: several people, several phones, nothing dropped.

Edits merge member by member and item by item. Where the same member was changed since the revision that an
edit was made on, both values are kept: the one in the document, and the edit in a conflict. A value that
cannot be read, or would leave the document with a fault, is kept as typed beside the document, which so
stays readable at every moment.
"""

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from records.document.faults import DocumentFaults, Fault
from records.document.placing import NotPlacedError, placed, value_at
from records.document.reader import DOCUMENT_BOUNDS, read

Unread = dict[str, dict[str, Any]]
"""By path: `value` as typed and `fault` (`Fault.as_json`)."""


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
    if a value is larger than a document may be.
    """
    _refuse_oversized(edits)
    draft = _Draft(document, revision, {path: dict(kept) for path, kept in (unread or {}).items()})
    seen = {entry.id for entry in log}
    together = {edit.id for edit in edits}
    others = [entry for entry in log if entry.id not in together]
    conflicts = []
    for edit in edits:
        if edit.id in seen:
            continue
        rival = _rival(edit, others)
        if rival and not draft.already_holds(edit):
            conflicts.append(Conflict(edit, draft.current(edit.path), rival.revision))
            continue
        draft.take(edit)
        seen.add(edit.id)
    if draft.applied:
        draft.take_up_unread()
    return Outcome(draft.document, draft.revision, draft.applied, conflicts, draft.unread)


def _refuse_oversized(edits: Iterable[Edit]) -> None:
    faults = []
    for edit in edits:
        size = len(edit.path) + len(json.dumps(edit.value, ensure_ascii=False))
        if size > DOCUMENT_BOUNDS.most_bytes:
            blanks = {"size": str(size), "most": str(DOCUMENT_BOUNDS.most_bytes)}
            faults.append(Fault(edit.path[:100], "document/too_big", blanks))
    if faults:
        raise DocumentFaults(faults)


def _rival(edit: Edit, entries: Iterable[AppliedEdit]) -> AppliedEdit | None:
    """The last entry since the edit's base that touched the same member, one in it or one around it."""
    mine = _touched(edit.path, edit.value)
    rivals = [
        entry
        for entry in entries
        if entry.revision > edit.base_revision and _overlap(mine, _touched(entry.path, entry.value))
    ]
    return max(rivals, key=lambda entry: entry.revision, default=None)


def _touched(path: str, value: object) -> list[str]:
    """The path in parts. Taking an item out by index moves all that follow, so it touches the whole list."""
    parts = re.findall(r"[^.\[\]]+", path)
    return parts[:-1] if value is None and parts and parts[-1].isdigit() else parts


def _overlap(one: list[str], other: list[str]) -> bool:
    shorter = min(len(one), len(other))
    return one[:shorter] == other[:shorter]


class _Draft:
    """The document while edits are applied to it."""

    def __init__(self, document: dict[str, Any], revision: int, unread: Unread) -> None:
        self.document = document
        self.revision = revision
        self.unread = unread
        self.applied: list[AppliedEdit] = []
        self._faults = _faults_of(document)

    def take(self, edit: Edit) -> None:
        """Apply the edit, or keep it as typed beside the document; either way it makes a revision."""
        self._forget_unread(edit.path)
        if fault := self._try(edit.path, edit.value):
            self.unread[edit.path] = {"value": edit.value, "fault": fault.as_json()}
        self.revision += 1
        self.applied.append(AppliedEdit(edit.id, edit.path, edit.value, self.revision))

    def take_up_unread(self) -> None:
        """Try again what did not fit before: a start after the old finish fits once the finish is moved."""
        progress = True
        while progress:
            progress = False
            for path, kept in list(self.unread.items()):
                if self._try(path, kept["value"]) is None:
                    del self.unread[path]
                    progress = True

    def current(self, path: str) -> object:
        """What stands at the path now, None where there is nothing."""
        try:
            return value_at(self.document, path)
        except NotPlacedError:
            return None

    def already_holds(self, edit: Edit) -> bool:
        """Whether the edit would change nothing."""
        try:
            return placed(self.document, edit.path, edit.value) == self.document
        except NotPlacedError:
            return False

    def _try(self, path: str, value: object) -> Fault | None:
        try:
            changed = placed(self.document, path, value)
        except NotPlacedError as error:
            return error.fault
        faults = _faults_of(changed)
        known = {(fault.path, fault.wording) for fault in self._faults}
        new = [fault for fault in faults if (fault.path, fault.wording) not in known]
        if new:
            return new[0]
        self.document, self._faults = changed, faults
        return None

    def _forget_unread(self, path: str) -> None:
        for kept in [
            kept for kept in self.unread if kept == path or kept.startswith((f"{path}.", f"{path}["))
        ]:
            del self.unread[kept]


def _faults_of(document: dict[str, Any]) -> list[Fault]:
    try:
        read(document)
    except DocumentFaults as error:
        return error.faults
    return []
