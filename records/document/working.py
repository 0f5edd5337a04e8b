"""The document while edits are applied to it: what reads is taken up, the rest is kept beside it as typed.

Edits are tried together, with one copy and one reading for all; only where that leaves a fault they are
halved, until each that does not fit stands alone.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from copy import deepcopy
from typing import Any, Protocol

from records.document.faults import DocumentFaults, Fault
from records.document.placing import NotPlacedError, place, value_at
from records.document.reader import read

Unread = dict[str, dict[str, Any]]
"""By path: `value` as typed and `fault` (`Fault.as_json`)."""

MOST_UNREAD = 50
MOST_UNREAD_CHARACTERS = 25_000
"""Of one value as JSON: a longer one is refused, not kept."""


class Placing(Protocol):
    """A value for a path."""

    @property
    def path(self) -> str: ...
    @property
    def value(self) -> object: ...


class Working:
    """A document, and what could not be read, while edits are taken up."""

    def __init__(self, document: dict[str, Any], unread: Mapping[str, dict[str, Any]]) -> None:
        self.document = document
        self.unread: Unread = {path: dict(kept) for path, kept in unread.items()}

    def take(self, edits: Sequence[Placing]) -> None:
        """Take up the edits in their order. Raises DocumentFaults for more unread than is kept."""
        for run in _runs(edits):
            self._take_run(run)

    def take_up_unread(self) -> None:
        """Try again what did not fit before: a start after the old finish fits once the finish is moved."""
        progress = True
        while progress:
            progress = False
            for path, kept in list(self.unread.items()):
                if self._fault_of([(path, kept["value"])]) is None:
                    del self.unread[path]
                    progress = True

    def current(self, path: str) -> object:
        """What stands at the path now, None where there is nothing."""
        try:
            return value_at(self.document, path)
        except NotPlacedError:
            return None

    def already_holds(self, edit: Placing) -> bool:
        """Whether the edit would change nothing."""
        try:
            return self._with([(edit.path, edit.value)]) == self.document
        except NotPlacedError:
            return False

    def _take_run(self, run: Sequence[Placing]) -> None:
        fault = self._fault_of([(edit.path, edit.value) for edit in run])
        if fault and len(run) > 1:
            half = len(run) // 2
            self._take_run(run[:half])
            self._take_run(run[half:])
            return
        for edit in run:
            self._forget_unread(edit.path)
            if fault:
                self._keep_unread(edit, fault)

    def _fault_of(self, placings: Sequence[tuple[str, object]]) -> Fault | None:
        """Why these do not fit, taken together; where they do, the document has them then."""
        try:
            changed = self._with(placings)
        except NotPlacedError as error:
            return error.fault
        if faults := _faults_of(changed):
            known = {(fault.path, fault.wording) for fault in _faults_of(self.document)}
            if new := [fault for fault in faults if (fault.path, fault.wording) not in known]:
                return new[0]
        self.document = changed
        return None

    def _with(self, placings: Sequence[tuple[str, object]]) -> dict[str, Any]:
        changed = deepcopy(self.document)
        for path, value in placings:
            place(changed, path, value)
        return changed

    def _keep_unread(self, edit: Placing, fault: Fault) -> None:
        if len(json.dumps(edit.value, ensure_ascii=False)) > MOST_UNREAD_CHARACTERS:
            raise DocumentFaults([fault])
        if len(self.unread) >= MOST_UNREAD:
            raise DocumentFaults([Fault(edit.path, "edit/too_many_unread", {"most": str(MOST_UNREAD)})])
        self.unread[edit.path] = {"value": edit.value, "fault": fault.as_json()}

    def _forget_unread(self, path: str) -> None:
        for kept in [
            kept for kept in self.unread if kept == path or kept.startswith((f"{path}.", f"{path}["))
        ]:
            del self.unread[kept]


def _runs(edits: Sequence[Placing]) -> Iterator[Sequence[Placing]]:
    """The edits in runs that can be tried together: a name, which others refer by, goes alone."""
    run: list[Placing] = []
    for edit in edits:
        if edit.path.endswith(".name"):
            yield run
            yield [edit]
            run = []
        else:
            run.append(edit)
    yield run


def _faults_of(document: dict[str, Any]) -> list[Fault]:
    try:
        read(document)
    except DocumentFaults as error:
        return error.faults
    return []
