"""Edit a working document by path, and see what reference data have changed since it was planned."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from django.db import transaction
from django.db.models import Q, QuerySet

from records.document.edits import AppliedEdit, Edit, Outcome, apply, refuse_unfit
from records.document.paths import pattern_of
from records.document.placing import NotPlacedError, value_at
from records.document.reader import read
from records.models import AuditEntry, Treatment, TreatmentEdit, User
from records.permissions import demand
from records.services.audit import change, note
from records.services.named_photos import refuse_unknown_photos
from records.services.projection import project

OWN_MEMBERS = ("schema", "record", "firm", "customer", "site")
TRIES_WITHOUT_LOCK = 3
EDITABLE_OF_RECORD = ("record.result", "record.why")


class NotADraftError(ValueError):
    """The treatment is signed, and no correction of it has been begun."""


class WrittenFromRowsError(ValueError):
    """The member is written from the treatment's row or from reference rows, and is mended there."""


def lock(treatment: Treatment) -> Treatment:
    """The treatment as it is now, which nobody else changes until the transaction ends."""
    return _rows(treatment).select_for_update(of=("self",)).get(pk=treatment.pk)


def edit_draft(treatment: Treatment, edits: Sequence[Edit], by: User) -> Outcome:
    """Apply the edits to the treatment's document and project it; see `records.document.edits.apply`.

    The outcome is worked out while others may write, and kept if nobody has; only where others are quicker
    again and again is the treatment locked first. `treatment` is brought up to date. Raises PermissionDenied,
    NotADraftError, DocumentFaults, and WrittenFromRowsError where an edit is of a member that is not typed:
    number, version, firm, the moment of recording, and in a first draft customer and site.
    """
    demand(by, "records.edit_draft", treatment)
    for _ in range(TRIES_WITHOUT_LOCK):
        found = _rows(treatment).get(pk=treatment.pk)
        outcome = _worked_out(found, edits)
        if not outcome.applied or _kept_if_unchanged(found, outcome, by):
            break
    else:
        outcome = _worked_out_and_kept(treatment, edits, by)
    treatment.state = found.state
    treatment.document, treatment.revision = outcome.document, outcome.revision
    treatment.unread = outcome.unread
    return outcome


def _worked_out(found: Treatment, edits: Sequence[Edit]) -> Outcome:
    if not found.is_open:
        raise NotADraftError(found.number)
    refuse_unfit(edits)
    for edit in edits:
        _refuse_own_members(found, edit)
    refuse_unknown_photos(found, edits)
    known = [_on_a_known_revision(edit, found.revision) for edit in edits]
    return apply(found.document, found.revision, _log(found, known), known, found.unread)


def _on_a_known_revision(edit: Edit, revision: int) -> Edit:
    """An edit on a revision that there was never here, of a service put back from a backup say, has seen none
    of what is here."""
    return replace(edit, base_revision=0) if edit.base_revision > revision else edit


def _standing(treatment: Treatment, path: str) -> object:
    """What stands at the path before the edits: in the document, or beside it as it was typed."""
    if path in treatment.unread:
        return treatment.unread[path]["value"]
    try:
        return value_at(treatment.document, path)
    except NotPlacedError:
        return None


def _rows(treatment: Treatment) -> QuerySet[Treatment]:
    return Treatment.objects.for_firm(treatment.firm).select_related("firm", "site__customer")


@transaction.atomic
def _kept_if_unchanged(found: Treatment, outcome: Outcome, by: User) -> bool:
    now = lock(found)
    if (now.revision, now.state) != (found.revision, found.state):
        return False
    _keep(now, outcome, by)
    return True


@transaction.atomic
def _worked_out_and_kept(treatment: Treatment, edits: Sequence[Edit], by: User) -> Outcome:
    now = lock(treatment)
    outcome = _worked_out(now, edits)
    if outcome.applied:
        _keep(now, outcome, by)
    return outcome


def _refuse_own_members(treatment: Treatment, edit: Edit) -> None:
    path = edit.path
    section = pattern_of(path).partition(".")[0].removesuffix("[]")
    correcting = treatment.state == Treatment.State.CORRECTING
    typed = path in EDITABLE_OF_RECORD or (correcting and section in ("firm", "customer", "site"))
    if (section in OWN_MEMBERS and not typed) or _moves_recorded_at(treatment.document, edit):
        raise WrittenFromRowsError(path)


def _moves_recorded_at(document: dict[str, Any], edit: Edit) -> bool:
    """Whether the edit sets when the treatment was recorded, which the signature does."""
    if edit.path != "timing" or not isinstance(edit.value, dict):
        return edit.path == "timing.recorded_at"
    return edit.value.get("recorded_at") != document.get("timing", {}).get("recorded_at")


def _log(treatment: Treatment, edits: Sequence[Edit]) -> list[AppliedEdit]:
    base = min((edit.base_revision for edit in edits), default=treatment.revision)
    wanted = Q(revision__gt=base) | Q(edit_id__in=[edit.id for edit in edits])
    rows = TreatmentEdit.objects.for_firm(treatment.firm).filter(wanted, treatment=treatment)
    return [AppliedEdit(row.edit_id, row.path, row.value, row.revision) for row in rows]


def _keep(treatment: Treatment, outcome: Outcome, by: User) -> None:
    changes = [change(entry.path, _standing(treatment, entry.path), entry.value) for entry in outcome.applied]
    note(AuditEntry.Kind.CHANGED, treatment, firm=treatment.firm, by=by, changes=changes)
    treatment.document = outcome.document
    treatment.revision = outcome.revision
    treatment.unread = outcome.unread
    TreatmentEdit.objects.bulk_create(
        TreatmentEdit(
            firm=treatment.firm,
            treatment=treatment,
            edit_id=entry.id,
            path=entry.path,
            value=entry.value,
            revision=entry.revision,
            by=by,
        )
        for entry in outcome.applied
    )
    if treatment.state == Treatment.State.DRAFT:
        project(treatment, read(treatment.document))
    else:
        treatment.save()
