"""From posted form data to edits by path: only what a person changed since the page showed it."""

import json
import re
import uuid
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from records.document.edits import Conflict, Edit
from records.forms.bound import Field, fields_of
from records.forms.controls import Typed, typed_in

LONGEST_OUT = timedelta(days=14)
"""For so long a device may be without a connection and still say when a thing was done."""
EDITS = uuid.UUID("6f1d7a0e-8d0a-4e6f-9b0a-2f5f6a1d9c11")
"""The same thing posted again is the same edit: its id is made of this and of what it is."""


@dataclass(frozen=True)
class Posted:
    """Posted form data (a QueryDict) and the revision that the page was made from.

    `form` is an id made with the page: the same change sent again from the same page is the same edit.
    """

    data: Any
    base_revision: int
    form: str

    @classmethod
    def read(cls, data: Any) -> "Posted":
        return cls(data, revision_in(data.get("base_revision", "")) or 0, data.get("form", ""))

    def typed(self, field: Field) -> Typed | None:
        return typed_in(field.control, field.path, self.data)

    def was(self, field: Field) -> Typed:
        return _texts(self.data.get(f"was:{field.path}"))

    def edit(self, path: str, value: Any, base_revision: int | None = None) -> Edit:
        """The edit of this page that puts `value` at `path`.

        A value that a device kept while there was no connection brings the revision that it was typed on.
        """
        if base_revision is None:
            kept = revision_in(self.data.get(f"base:{path}", ""))
            base_revision = self.base_revision if kept is None else kept
        name = json.dumps([self.form, base_revision, path, value])
        return Edit(str(uuid.uuid5(EDITS, name)), path, value, base_revision)

    def edits(self, blocks: Sequence[Any]) -> Iterator[Edit]:
        """Every change in the page's fields, in its order."""
        for field in fields_of(blocks):
            typed = self.typed(field)
            if typed is None or typed == self.was(field) or self._in_conflict(field, typed):
                continue
            value = field.control.read(typed)
            if typed != field.typed and (value != field.value or field.sentence):
                yield self.edit(field.path, value)
                if self._is_taken_offer(field):
                    yield from (self.edit(path, each) for path, each in field.offer_follows.items())

    def _is_taken_offer(self, field: Field) -> bool:
        """Whether it was taken at a touch without a connection, and nobody has said otherwise meanwhile."""
        return f"follows:{field.path}" in self.data and self.was(field) == field.typed

    def _in_conflict(self, field: Field, typed: Typed) -> bool:
        """Whether the question between two values is still open for what is typed here."""
        mine = self.data.get(f"mine:{field.path}")
        return mine is not None and _texts(mine) == typed

    def changed_elsewhere(self, field: Field) -> bool:
        """Whether the document's value is another than the page shows, where the person typed nothing."""
        typed = self.typed(field)
        return (
            typed is not None
            and typed == self.was(field) != field.typed
            and field.control.read(typed) != field.value
        )

    def has_other_unit(self, field: Field) -> bool:
        """Whether the page still shows another unit than the one that was typed and taken."""
        typed = self.typed(field)
        return typed is not None and not field.sentence and field.control.is_in_other_unit(typed, field.typed)

    def has_other_offer(self, field: Field) -> bool:
        """Whether the page offers something else than what follows from the document now."""
        return self.data.get(f"offer:{field.path}", field.offer_text) != field.offer_text

    def open_conflicts(self, blocks: Sequence[Any], new: Sequence[Conflict]) -> Mapping[str, Field]:
        """By path, the fields of which two people's values differ and nobody has said which is right."""
        fresh = {conflict.edit.path for conflict in new}
        found = {}
        for field in fields_of(blocks):
            typed = self.typed(field)
            if typed is None or typed == field.typed:
                continue
            if field.path in fresh or self._in_conflict(field, typed):
                found[field.path] = field
        return found

    def ask_about(self, blocks: Sequence[Any], new: Sequence[Conflict]) -> None:
        """Put what was typed back where two people's values differ, with the question between them."""
        for field in self.open_conflicts(blocks, new).values():
            theirs, mine = field.typed, self.typed(field) or ()
            field.conflict = {"mine": " ".join(mine), "theirs": " ".join(theirs)}
            field.typed = mine


def revision_in(text: str) -> int | None:
    """The revision that a hidden field names, None for anything else."""
    return int(text) if re.fullmatch("[0-9]{1,9}", text) else None


def _texts(stored: str | None) -> Typed:
    try:
        texts = json.loads(stored or "[]")
    except (ValueError, RecursionError):
        return ()
    return tuple(str(text) for text in texts) if isinstance(texts, list) else ()
