"""What a phone holds of one person and one treatment, as far as the service can tell of it."""

from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from compliance.services.sealed import Sent
from records.document.canonical import as_json
from records.document.edits import Edit, Outcome, apply
from records.document.reader import read
from records.models import Treatment, User
from records.services.sheets import sheet_of
from tests.device import Device

Json = dict[str, Any]


@dataclass
class Shelf:
    """One person's part of a phone. What is `asked` or `refused` stands on its pages until the person says what
    becomes of it; what was asked and is entered anew is `answered_with`."""

    person: User
    device: Device
    ahead: timedelta
    sheet: Json
    revision: int = 0
    waiting: list[Edit] = field(default_factory=list)
    sent: list[tuple[Edit, int]] = field(default_factory=list)
    asked: list[Edit] = field(default_factory=list)
    answered_with: list[Edit] = field(default_factory=list)
    refused: list[Edit] = field(default_factory=list)
    sealed: Sent | None = None

    def keep(self, treatment: Treatment) -> None:
        self.sheet = sheet_of(treatment, self.person)
        self.revision = self.sheet["revision"]

    def answered(self, edits: Sequence[Edit], outcome: Outcome) -> None:
        """The service has these entries, or asks about them."""
        asked = {each.edit.id for each in outcome.conflicts}
        for edit in [each for each in self.waiting if each in edits]:
            self.waiting.remove(edit)
            if edit.id in asked:
                self.asked.append(edit)
            else:
                self.sent.append((edit, outcome.revision))
        self.revision = max(self.revision, outcome.revision)

    def signed_meanwhile(self, edits: Sequence[Edit]) -> None:
        for edit in [each for each in self.waiting if each in edits]:
            self.waiting.remove(edit)
            self.refused.append(edit)

    def document(self) -> Json | None:
        """The kept one with what was typed since; None where something in it can't be read."""
        newer = [edit for edit, revision in self.sent if revision > self.sheet["revision"]]
        edits = sorted([*newer, *self.asked, *self.waiting], key=lambda edit: int(edit.id))
        made = apply(deepcopy(self.sheet["document"]), self.sheet["revision"], [], edits)
        return None if made.unread or self.sheet["unread"] else as_json(read(made.document))

    def seal(self, treatment: Treatment, now: datetime) -> Sent | None:
        """By the phone's own clock."""
        document = self.document()
        if document is not None:
            sheet = {**self.sheet, "document": document}
            self.sealed = self.device.sealed(treatment, self.person, now + self.ahead, sheet=sheet)
        return self.sealed
