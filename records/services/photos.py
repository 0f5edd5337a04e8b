"""Take photos of a treatment: announced first, then in pieces, whole once all announced bytes are here."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.core.files import File
from django.db import transaction
from django.db.models import Sum

from records.models import AuditEntry, Firm, Photo, Treatment, User
from records.permissions import demand
from records.photo_faults import PhotoError
from records.services import photo_store
from records.services.audit import change, note
from records.services.corrections import NotSignedError
from records.services.drafts import NotADraftError, lock
from records.services.named_photos import named_by
from records.services.photo_evidence import let_go
from records.services.photo_judging import complete
from shared import clock

MEGABYTE = 1_000_000
MOST_BYTES = 25 * MEGABYTE
MOST_OF_A_TREATMENT = 100
MOST_UNFINISHED = 5
"""Of one person: the oldest is given up for the next."""
MOST_BYTES_A_DAY = 2_000 * MEGABYTE
LARGEST_PIECE = 1_048_576
A_DAY = timedelta(days=1)


class WrongOffsetError(ValueError):
    """A piece that does not go on where the last one ended: at `offset`."""

    def __init__(self, offset: int) -> None:
        super().__init__(str(offset))
        self.offset = offset


@dataclass(frozen=True)
class Announced:
    """What is going to be sent. `later` is a photo for a follow-up: the record is signed already."""

    sha256: str
    bytes: int
    taken_at: datetime | None = None
    later: bool = False


def announce(treatment: Treatment, announced: Announced, by: User) -> Photo:
    """The photo's row, whose `came_in` says where to go on; announcing it again changes nothing.

    Raises PermissionDenied, NotADraftError (NotSignedError for a later one), and as `complete` does.
    """
    photo = _row_of(treatment, announced, by)
    return complete(photo) if photo.came_in == photo.bytes and not photo.is_whole else photo


def add_piece(photo: Photo, offset: int, piece: bytes, by: User, later: bool = False) -> Photo:
    """The photo with the next bytes; with the last ones it is judged and whole.

    Raises PermissionDenied, NotADraftError, WrongOffsetError, and PhotoError.
    """
    photo = _kept(photo, offset, piece, by, later)
    return complete(photo) if photo.came_in == photo.bytes else photo


def keep_whole(treatment: Treatment, file: File, sha256: str, by: User, later: bool = False) -> Photo:
    """A photo that came at once, as from a form. Raises as `announce` and `add_piece` do."""
    photo = announce(treatment, Announced(sha256, file.size, later=later), by)
    if photo.is_whole:
        return photo
    file.seek(photo.came_in)
    for piece in _pieces(file):
        photo = add_piece(photo, photo.came_in, piece, by, later)
    return photo


@transaction.atomic
def _row_of(treatment: Treatment, announced: Announced, by: User) -> Photo:
    locked = lock(treatment)
    _refuse_state(locked, by, announced.sha256, announced.later)
    of_firm = Photo.objects.for_firm(locked.firm)
    if known := of_firm.filter(treatment=locked, sha256=announced.sha256).first():
        return known
    _refuse_size(announced.bytes)
    if of_firm.filter(treatment=locked, came_in__gt=0).count() >= MOST_OF_A_TREATMENT:
        raise PhotoError("photo/too_many", most=str(MOST_OF_A_TREATMENT))
    _refuse_too_much(locked.firm, announced.bytes)
    unfinished = of_firm.filter(by=by, received_at=None).order_by("-last_piece_at")
    for oldest in unfinished[MOST_UNFINISHED - 1 :]:
        let_go(oldest, by)
    photo = Photo.objects.create(
        treatment=locked,
        sha256=announced.sha256,
        bytes=announced.bytes,
        taken_at=announced.taken_at,
        by=by,
    )
    changes = [change("sha256", None, photo.sha256)]
    note(AuditEntry.Kind.CREATED, photo, firm=locked.firm, by=by, changes=changes)
    return photo


@transaction.atomic
def _kept(photo: Photo, offset: int, piece: bytes, by: User, later: bool) -> Photo:
    _refuse_state(lock(photo.treatment), by, photo.sha256, later)
    locked = Photo.objects.for_firm(photo.firm).select_for_update().get(pk=photo.pk)
    if locked.is_whole or offset != locked.came_in:
        raise WrongOffsetError(locked.came_in)
    if offset + len(piece) > locked.bytes or len(piece) > LARGEST_PIECE:
        raise PhotoError("photo/other_bytes")
    _refuse_too_much(locked.firm, len(piece))
    photo_store.write_piece(locked, offset, piece)
    locked.came_in += len(piece)
    locked.last_piece_at = clock.now()
    locked.save()
    return locked


def _refuse_state(treatment: Treatment, by: User, sha256: str, later: bool) -> None:
    """A signed record takes only what it names already: a device may sign before its photos are sent."""
    demand(by, "records.sign_follow_up" if later else "records.edit_draft", treatment)
    if later and treatment.state == Treatment.State.DRAFT:
        raise NotSignedError(treatment.number)
    if not later and not treatment.is_open and sha256 not in named_by(treatment):
        raise NotADraftError(treatment.number)


def _refuse_size(size: int) -> None:
    if size > MOST_BYTES:
        raise PhotoError("photo/too_big", size=f"{size / MEGABYTE:.1f}", most=str(MOST_BYTES // MEGABYTE))
    if size < 1:
        raise PhotoError("photo/empty")


def _refuse_too_much(firm: Firm, more: int) -> None:
    today = Photo.objects.for_firm(firm).filter(last_piece_at__gt=clock.now() - A_DAY)
    if (today.aggregate(all=Sum("came_in"))["all"] or 0) + more > MOST_BYTES_A_DAY:
        raise PhotoError("photo/too_much_today")


def _pieces(file: File) -> Iterator[bytes]:
    while piece := file.read(LARGEST_PIECE):
        yield piece
