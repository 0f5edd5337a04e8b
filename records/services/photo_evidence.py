"""Name a photo as evidence of a step or incident, take it off again, and let go of what nothing names."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from records.document.edits import Edit
from records.document.evidence import Shown, all_shown, shown_by
from records.models import AuditEntry, Firm, Photo, Treatment, User
from records.permissions import demand
from records.photo_faults import PhotoError
from records.reference import Json, filled
from records.services import photo_store
from records.services.audit import change, note
from records.services.drafts import NotADraftError, edit_draft, lock
from records.services.named_photos import named_by, proves_a_delivery
from shared import clock

KEPT_HALF = timedelta(days=7)


def evidence_of(photo: Photo) -> Json:
    """How a document or a follow-up names the photo."""
    site = photo.treatment.document.get("site") or {}
    zone = ZoneInfo(site.get("time_zone") or photo.firm.time_zone)
    taken_at = photo.taken_at and photo.taken_at.astimezone(zone).isoformat(timespec="seconds")
    return filled(sha256=photo.sha256, media_type=photo.media_type, bytes=photo.bytes, taken_at=taken_at)


@transaction.atomic
def attach(photo: Photo, step: str, by: User) -> None:
    """Name the photo as evidence of this step; naming it again changes nothing.

    Raises PermissionDenied, NotADraftError, and PhotoError where that is not in the document.
    """
    treatment = lock(photo.treatment)
    found = shown_by(treatment.document, step)
    if found is None:
        raise PhotoError("photo/no_step")
    if _index(found, photo.sha256) is None:
        _edit(treatment, photo.sha256, f"{found.path}.evidence[{len(found.evidence)}]", evidence_of(photo), by)


@transaction.atomic
def detach(photo: Photo, step: str, by: User) -> None:
    """Take the photo off the step, and let go of it if nothing else names it and it proves no delivery.

    Raises PermissionDenied and NotADraftError.
    """
    treatment = lock(photo.treatment)
    demand(by, "records.edit_draft", treatment)
    if not treatment.is_open:
        raise NotADraftError(treatment.number)
    for found in all_shown(treatment.document):
        index = _index(found, photo.sha256)
        if found.step == step and index is not None:
            _edit(treatment, photo.sha256, f"{found.path}.evidence[{index}]", None, by)
            break
    if photo.sha256 not in named_by(lock(treatment)) and not proves_a_delivery(photo):
        let_go(photo, by)


def sweep(firm: Firm) -> int:
    """Let go of the firm's photos that are not whole and of which no piece has come for a week; how many."""
    old = Photo.objects.for_firm(firm).filter(received_at=None, last_piece_at__lt=clock.now() - KEPT_HALF)
    photos = list(old)
    for photo in photos:
        let_go(photo)
    return len(photos)


def _edit(treatment: Treatment, sha256: str, path: str, value: Json | None, by: User) -> None:
    edit = Edit(f"photo-{sha256[:40]}-{treatment.revision}", path, value, treatment.revision)
    edit_draft(treatment, [edit], by)


def _index(shown: Shown, sha256: str) -> int | None:
    return next((at for at, each in enumerate(shown.evidence) if each.get("sha256") == sha256), None)


@transaction.atomic
def let_go(photo: Photo, by: User | None = None) -> None:
    """Take the photo's row out, and its files once that is done. By nobody where the machine tidies up."""
    changes = [change("sha256", photo.sha256, None)]
    note(AuditEntry.Kind.REMOVED, photo, firm=photo.firm, by=by, changes=changes)
    photo.delete()
    transaction.on_commit(lambda: photo_store.remove(photo))
