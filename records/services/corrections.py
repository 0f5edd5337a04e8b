"""Mend a signed record by a new version of it, which names the one that it replaces and why."""

from django.db import transaction

from records.models import AuditEntry, SignedRecord, Treatment, User
from records.permissions import demand
from records.selectors import document_of, newest_signed, signed_versions
from records.services.audit import change, note
from records.services.drafts import lock
from records.services.signing import as_next_version

State = Treatment.State


class NotSignedError(ValueError):
    """There is nothing that could be corrected: a draft is edited, what is void or erased stays so."""


class AlreadyCorrectedError(ValueError):
    """The version has a correction already: `first` is the version signed, or None while it is written."""

    def __init__(self, treatment: Treatment, first: SignedRecord | None) -> None:
        super().__init__(treatment.number)
        self.treatment = treatment
        self.first = first


@transaction.atomic
def start_correction(treatment: Treatment, by: User, reason: str, version: int | None = None) -> Treatment:
    """Open the signed document as the draft of its next version; `version` is the one to correct, the newest
    if None. The register keeps showing what is signed.

    Raises PermissionDenied, NotSignedError, AlreadyCorrectedError, and ValueError without a reason.
    """
    demand(by, "records.correct_treatment", treatment)
    locked = lock(treatment)
    newest = newest_signed(locked)
    if newest is None or locked.state == State.VOID or hasattr(locked, "erasure"):
        raise NotSignedError(locked.number)
    if version is not None and version != newest.version:
        raise AlreadyCorrectedError(locked, signed_versions(locked).filter(version=version + 1).first())
    if locked.state == State.CORRECTING:
        raise AlreadyCorrectedError(locked, None)
    locked.document = as_next_version(newest, reason)
    _save(locked, State.CORRECTING, by, reason.strip())
    return locked


@transaction.atomic
def drop_correction(treatment: Treatment, by: User) -> Treatment:
    """Give up the correction that is being written; the signed version holds on.

    Raises PermissionDenied and NotSignedError where none is being written.
    """
    demand(by, "records.correct_treatment", treatment)
    locked = lock(treatment)
    newest = newest_signed(locked)
    if newest is None or locked.state != State.CORRECTING:
        raise NotSignedError(locked.number)
    locked.document = document_of(newest)
    locked.unread = {}
    _save(locked, State.CORRECTED if newest.replaces_id else State.SIGNED, by)
    return locked


def _save(treatment: Treatment, state: str, by: User, reason: str = "") -> None:
    changes = [change("state", treatment.state, state)]
    note(AuditEntry.Kind.CHANGED, treatment, firm=treatment.firm, by=by, changes=changes, reason=reason)
    treatment.state = state
    treatment.revision += 1
    treatment.save()
