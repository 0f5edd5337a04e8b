"""Which photos a treatment names, and which it may name: those that are there, or announced."""

from collections.abc import Collection, Sequence

from records.document.edits import Edit
from records.document.evidence import digests_in, named_in
from records.document.faults import DocumentFaults, Fault
from records.models import Attempt, Photo, Treatment
from records.selectors import document_of, follow_ups_of, signed_versions


def named_by(treatment: Treatment) -> set[str]:
    """The digests that the treatment's document, any signed version or a follow-up names."""
    signed = (document_of(record) for record in signed_versions(treatment))
    follow_ups = [row.follow_up for row in follow_ups_of(treatment)]
    return named_in(treatment.document, follow_ups).union(*(named_in(each) for each in signed))


def proves_a_delivery(photo: Photo) -> bool:
    """Whether it shows how a notice was handed over that is not erased."""
    shown = Attempt.objects.for_firm(photo.firm).filter(photo=photo.sha256, notice__erasure=None)
    return shown.filter(notice__treatment=photo.treatment_id).exists()


def came_with_notices_to(photo: Photo, recipients: Collection[str]) -> bool:
    """Whether it was sent to prove a delivery to such a recipient, and proves none to another. One that was a
    photo of the work before stays that; naming it as such later changes nothing."""
    proving = Attempt.objects.for_firm(photo.firm).filter(
        photo=photo.sha256, notice__treatment=photo.treatment_id
    )
    to_them = proving.filter(notice__to__in=recipients)
    if not recipients or not to_them.filter(by=photo.by_id).exists():
        return False
    return not proving.exclude(notice__to__in=recipients).exists()


def refuse_unknown_photos(treatment: Treatment, edits: Sequence[Edit]) -> None:
    """Raise DocumentFaults for edits that name what is no photo of the treatment, whole or announced."""
    asked = {edit.path: digests_in(edit.path, edit.value) for edit in edits}
    if not any(asked.values()):
        return
    photos = Photo.objects.for_firm(treatment.firm).filter(treatment=treatment)
    known = named_by(treatment).union(photos.values_list("sha256", flat=True))
    faults = [
        Fault(path, "edit/no_such_photo", {"digest": digest[:64]})
        for path, digests in asked.items()
        for digest in sorted(digests - known)
    ]
    if faults:
        raise DocumentFaults(faults)
