"""Edit a working document by path, and see what reference data have changed since it was planned."""

from collections.abc import Sequence

from django.db import transaction
from django.db.models import Q

from records.document.edits import AppliedEdit, Edit, Outcome, apply
from records.document.paths import pattern_of
from records.document.reader import read
from records.models import Treatment, TreatmentEdit, User
from records.permissions import demand
from records.services.projection import project

OWN_MEMBERS = ("schema", "record", "firm", "customer", "site")
EDITABLE_OF_RECORD = ("record.result", "record.why")


class NotADraftError(ValueError):
    """The treatment is signed, and no correction of it has been begun."""


class WrittenFromRowsError(ValueError):
    """The member is written from the treatment's row or from reference rows, and is mended there."""


def lock(treatment: Treatment) -> Treatment:
    """The treatment as it is now, which nobody else changes until the transaction ends."""
    treatments = Treatment.objects.for_firm(treatment.firm).select_for_update(of=("self",))
    return treatments.select_related("firm", "site__customer").get(pk=treatment.pk)


@transaction.atomic
def edit_draft(treatment: Treatment, edits: Sequence[Edit], by: User) -> Outcome:
    """Apply the edits to the treatment's document and project it; see `records.document.edits.apply`.

    `treatment` is brought up to date. Raises PermissionDenied, NotADraftError, and WrittenFromRowsError where
    an edit is of a member that is not typed: number, version, firm, and in a first draft customer and site.
    """
    demand(by, "records.edit_draft", treatment)
    locked = lock(treatment)
    if not locked.is_open:
        raise NotADraftError(locked.number)
    for edit in edits:
        _refuse_own_members(locked, edit.path)
    outcome = apply(locked.document, locked.revision, _log(locked, edits), edits, locked.unread)
    if outcome.applied:
        _keep(locked, outcome, by)
    for name in ("state", "document", "revision", "unread"):
        setattr(treatment, name, getattr(locked, name))
    return outcome


def _refuse_own_members(treatment: Treatment, path: str) -> None:
    section = pattern_of(path).partition(".")[0].removesuffix("[]")
    correcting = treatment.state == Treatment.State.CORRECTING
    typed = path in EDITABLE_OF_RECORD or (correcting and section in ("firm", "customer", "site"))
    if section in OWN_MEMBERS and not typed:
        raise WrittenFromRowsError(path)


def _log(treatment: Treatment, edits: Sequence[Edit]) -> list[AppliedEdit]:
    base = min((edit.base_revision for edit in edits), default=treatment.revision)
    wanted = Q(revision__gt=base) | Q(edit_id__in=[edit.id for edit in edits])
    rows = TreatmentEdit.objects.for_firm(treatment.firm).filter(wanted, treatment=treatment)
    return [AppliedEdit(row.edit_id, row.path, row.value, row.revision) for row in rows]


def _keep(treatment: Treatment, outcome: Outcome, by: User) -> None:
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
