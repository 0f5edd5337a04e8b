"""What reference data say now beside what stands in a draft: shown as questions, with their answers."""

import uuid
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from records.changes import Change, changed_since_planning
from records.document.edits import Edit
from records.document.kinds import Time, Word
from records.document.member_labels import member_label
from records.document.members import member_at
from records.document.paths import pattern_of, steps_of
from records.document.words import label
from records.models import Treatment
from records.pages.firm_page import FirmPage
from records.services.drafts import OWN_MEMBERS, edit_draft
from records.templatetags.treatments import moment
from shared.quantities import QuantityError
from shared.quantities import read as read_quantity

HIDDEN = ("id", "digest")


@dataclass(frozen=True)
class RowChange:
    """One member that a row says otherwise by now. `follows`: signing writes what the row says."""

    path: str
    name: str
    written: str
    now: str
    follows: bool


def row_changes(treatment: Treatment, language: str) -> list[RowChange]:
    """What changed in the reference rows since they were written into this draft."""
    return [_row_change(change, treatment, language) for change in changed_since_planning(treatment)]


def _row_change(change: Change, treatment: Treatment, language: str) -> RowChange:
    section = steps_of(change.path)[0][0]
    names = [*_names_on(change.path, treatment.document), member_label(pattern_of(change.path), language)]
    whole = [member_label(section, language)] if len(names) == 1 else []
    return RowChange(
        path=change.path,
        name=": ".join([*whole, *names]),
        written=said_value(change.path, change.written, language),
        now=said_value(change.path, change.now, language),
        follows=section in OWN_MEMBERS,
    )


def _names_on(path: str, document: Any) -> list[str]:
    """The names of the items that the path leads through."""
    names: list[str] = []
    owner = document
    for name, selector in steps_of(path):
        owner = owner.get(name) if isinstance(owner, dict) else None
        if selector is not None:
            owner = next((item for item in owner or [] if item.get("id") == selector), None)
            names += [owner["name"]] if owner and owner.get("name") else []
    return names


def said_value(path: str, value: Any, language: str) -> str:
    """A member's value as a person reads it, in one line."""
    if value in (None, "", [], {}):
        return _("nothing")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, list):
        return "; ".join(said_value(f"{path}[0]", item, language) for item in value)
    if isinstance(value, dict):
        return _said_object(path, value, language)
    kind = member_at(pattern_of(path)).kind
    if isinstance(kind, Time):
        return moment(value)
    return label(kind.word_list, value, language) if isinstance(kind, Word) else str(value)


def _said_object(path: str, value: dict[str, Any], language: str) -> str:
    try:
        return read_quantity(value).say(language)
    except QuantityError:
        parts = {name: part for name, part in value.items() if name not in HIDDEN and part not in (None, [])}
        return ", ".join(said_value(f"{path}.{name}", part, language) for name, part in parts.items())


class AnswerRowChange(FirmPage):
    """Answer one question: keep what stands in the draft, or take what the row says. Both are edits."""

    permission = "records.edit_draft"

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        asked = {change.path: change for change in changed_since_planning(treatment)}
        values = {
            **{path: asked[path].written for path in request.POST.getlist("keep") if path in asked},
            **{path: asked[path].now for path in request.POST.getlist("take") if path in asked},
        }
        edits = [
            Edit(str(uuid.uuid4()), path, value, treatment.revision)
            for path, value in values.items()
            if steps_of(path)[0][0] not in OWN_MEMBERS
        ]
        if edits:
            edit_draft(treatment, edits, request.user)
        return redirect("sign" if request.POST.get("from") == "sign" else "treatment", uuid=treatment.pk)
