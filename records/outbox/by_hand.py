"""What people do with notices: print them, hand them over, ring people up, withdraw, settle what is unsure."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.db.models import QuerySet
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from records.models import Attempt, AuditEntry, Firm, NotByMeans, Notice, NoticeTask, Treatment, User
from records.outbox.folded import reached_at
from records.outbox.results import result
from records.permissions import demand
from records.services.audit import note
from records.services.photos import keep_whole
from shared import clock

Kind, State = Attempt.Kind, Notice.State
AHEAD = timedelta(minutes=5)
BUTTONS: dict[str, str | Promise] = {
    Kind.PRINTED: _("It is printed"),
    Kind.POSTED: _("Given to the post"),
    Kind.HANDED_OVER: _("Handed over"),
    Kind.SPOKEN: _("Told on the phone"),
    Kind.VOICEMAIL: _("Left on voicemail"),
    Kind.NO_ANSWER: _("No answer"),
    Kind.WRONG_NUMBER: _("Wrong number"),
    Kind.DELIVERED: _("It came"),
    Kind.AGAIN: _("Send it again"),
    Kind.NOT_WANTED: _("Does not want it by this means"),
    Kind.WITHDRAWN: _("Withdraw"),
}
OF_MEANS = {
    "letter": (Kind.PRINTED, Kind.POSTED, Kind.HANDED_OVER),
    "door": (Kind.PRINTED, Kind.HANDED_OVER),
    "in-person": (Kind.PRINTED, Kind.HANDED_OVER),
    "phone": (Kind.SPOKEN, Kind.VOICEMAIL, Kind.NO_ANSWER, Kind.WRONG_NUMBER),
}
OVER = (State.DELIVERED, State.WITHDRAWN)
NOT_AGAIN = _("Do not send it again")
NOT_OUT = (State.READY, State.PRINTED, State.REFUSED)
"""Nothing more goes out of one that is withdrawn in these states. What went out, nobody can call back."""


class NotNowError(ValueError):
    """The notice is in no state in which this can be done to it."""


class NotThenError(ValueError):
    """Nothing can have been done to the notice at that moment: it is still `to_come`, or it was before the
    notice was made."""

    def __init__(self, at: datetime) -> None:
        super().__init__(at)
        self.to_come = at > clock.now()


@dataclass(frozen=True)
class Deed:
    """What a person did, in their words; `photo` is the digest of a photo that shows it."""

    kind: str
    words: str = ""
    photo: str = ""
    at: datetime | None = None


def deeds_for(notice: Notice, by: User) -> Sequence[Attempt.Kind]:
    """What this member may do to the notice now, by hand. That somebody does not want a means holds for all
    their notices to come: the office writes it down."""
    if notice.is_erased or notice.state in OVER or notice.state == State.SENDING:
        return ()
    withdraw = (Kind.WITHDRAWN,) if notice.state in NOT_OUT else ()
    not_wanted = (Kind.NOT_WANTED,) if by.has_perm("records.see_to_notices", notice) else ()
    if not notice.by_machine:
        return (*OF_MEANS.get(notice.means, ()), *not_wanted, *withdraw)
    settled = (Kind.DELIVERED, Kind.AGAIN) if notice.state == State.UNSURE else ()
    again = (Kind.AGAIN,) if notice.state == State.REFUSED else ()
    return (*settled, *again, *not_wanted, *withdraw)


def button_words(notice: Notice, kind: Attempt.Kind) -> str | Promise:
    """What went out can't be called back, only not be sent again."""
    return NOT_AGAIN if kind == Kind.WITHDRAWN and notice.gone_out else BUTTONS[kind]


def kind_of(notice: Notice, deed: Deed, by: User) -> Attempt.Kind:
    """What the deed is, where they may do it to the notice as it is. Raises NotNowError and NotThenError."""
    kind = next((each for each in deeds_for(notice, by) if each == deed.kind), None)
    if kind is None:
        raise NotNowError(deed.kind)
    minute_made = notice.made_at.replace(second=0, microsecond=0)
    if deed.at and not minute_made <= deed.at <= clock.now() + AHEAD:
        raise NotThenError(deed.at)
    return kind


@transaction.atomic
def do(notice: Notice, deed: Deed, by: User) -> None:
    """Keep what was done. Raises PermissionDenied, NotNowError and NotThenError."""
    demand(by, "records.send_notices", notice)
    locked = Notice.objects.for_firm(notice.firm).select_for_update().get(pk=notice.pk)
    kind = kind_of(locked, deed, by)
    if kind == Kind.NOT_WANTED:
        _not_by(locked, by)
    result(locked, kind, deed.words, by=by, photo=deed.photo, at=deed.at)
    note(AuditEntry.Kind.CHANGED, locked, firm=locked.firm, by=by, reason=kind.value)


@transaction.atomic
def finish_task(task: NoticeTask, by: User) -> None:
    """Raises PermissionDenied."""
    demand(by, "records.see_to_notices", task)
    if task.done_at is None:
        task.done_at, task.done_by = clock.now(), by
        task.save()
        note(AuditEntry.Kind.CHANGED, task, firm=task.firm, by=by, reason="done")


def open_tasks(firm: Firm) -> QuerySet[NoticeTask]:
    """What the office has not seen to yet, the oldest first."""
    return NoticeTask.objects.for_firm(firm).filter(done_at=None).select_related("notice__treatment")


def photo_of(treatment: Treatment, file: UploadedFile | None, by: User) -> str:
    """The digest of a photo that came with a form, kept with the treatment's; empty without one.

    Raises PhotoError and NotADraftError.
    """
    if file is None:
        return ""
    sha256 = hashlib.file_digest(file, "sha256").hexdigest()
    return keep_whole(treatment, file, sha256, by, later=not treatment.is_open).sha256


def _not_by(notice: Notice, by: User) -> None:
    if reached := reached_at(notice.means, notice.email, notice.phone):
        NotByMeans.objects.for_firm(notice.firm).get_or_create(
            means=notice.means, reached=reached, defaults={"firm": notice.firm, "by": by}
        )
