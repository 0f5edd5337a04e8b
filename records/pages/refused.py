"""What was typed and is too much even to be kept unread: it stays on the page, and the rest is saved."""

from collections.abc import Mapping, Sequence

from records.document.edits import Edit, Outcome
from records.document.faults import DocumentFaults, Fault
from records.forms.bound import Field
from records.forms.posted import Posted
from records.models import Treatment, User
from records.services.drafts import edit_draft

Refused = Mapping[str, Fault]
"""By path, why what was typed there was not saved."""


def save_what_fits(
    treatment: Treatment, edits: Sequence[Edit], by: User, fields: Sequence[Field]
) -> tuple[Outcome, Refused]:
    """Save the edits but those of fields that hold too much.

    Raises DocumentFaults where a fault is of no field, and what `edit_draft` raises.
    """
    refused: dict[str, Fault] = {}
    while True:
        fitting = [edit for edit in edits if edit.path not in refused]
        try:
            return edit_draft(treatment, fitting, by), refused
        except DocumentFaults as error:
            found = {
                field.path: fault
                for fault in error.faults
                for field in fields
                if fault.path in (field.place, field.path)
            }
            if not found.keys() - refused.keys():
                raise
            refused |= found


def put_back(fields: Sequence[Field], posted: Posted, refused: Refused, language: str) -> None:
    """Let the fields show what was typed into them and refused, and why; what is kept is remembered."""
    for field in fields:
        if field.path in refused and (typed := posted.typed(field)) is not None:
            field.kept, field.typed = field.typed, typed
            field.sentence = field.control.spoken(refused[field.path].sentence(language))


def put_all_back(fields: Sequence[Field], posted: Posted) -> None:
    """Let all fields show what was typed, where nothing could be saved."""
    for field in fields:
        if (typed := posted.typed(field)) is not None and typed != field.typed:
            field.kept, field.typed = field.typed, typed
