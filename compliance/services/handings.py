"""Begin the bundle that answers a request, let it go on, take it out, let it go."""

from collections.abc import Sequence
from typing import Any
from uuid import UUID, uuid4

from django.db import transaction

from compliance.models import Handing, RecordsRequest, RequestAnswer
from compliance.request_bundle.letting_go import let_go
from compliance.services.handings_alike import same_now
from compliance.services.kept_once import kept_once
from compliance.services.request_matches import signed_matches
from compliance.tasks import look_after_handing_later, make_handing
from records.bundle.writer import newest_head
from records.models import AuditEntry, User
from records.permissions import demand
from records.services.audit import note
from shared import clock

State = Handing.State
PERMISSION = "records.hand_over"


class NotNowError(ValueError):
    """It is not at the point for this any more."""


class EmptyLogError(NotNowError):
    """Nothing was ever signed: there is no log that could have been searched."""


class FitsByNowError(NotNowError):
    """Something that fits was signed meanwhile."""


def begin(request: RecordsRequest, by: User, treatments: Sequence[UUID], **wanted: Any) -> Handing:
    """Have the worker make the bundle of these treatments. It follows the one that was handed over last, and
    says what has changed since. One is made for each `uuid` of what is wanted, and of what two forms want
    alike. Of no treatment it answers that nothing signed fits. Raises PermissionDenied, EmptyLogError,
    FitsByNowError."""
    demand(by, PERMISSION, request)
    if not treatments:
        wanted |= {"log_size": _searched(request), "sheets": [], "photos": False}
    before = Handing.objects.for_firm(request.firm).filter(request=request).exclude(answers=None)
    handing = Handing(
        firm=request.firm, request=request, by=by, since=before.order_by("-at").first(),
        treatments=[str(each) for each in treatments], **wanted,
    )  # fmt: skip
    with transaction.atomic():
        # without records two are alike though the search was changed, or the log has grown
        if handing.treatments and (same := same_now(handing)):
            return same
        handing, is_new = kept_once(handing)
        if is_new:
            note(AuditEntry.Kind.CREATED, handing, firm=request.firm, by=by)
    if is_new:
        _queue(handing, 0)
    return handing


def go_on(handing: Handing, tries: int = 0) -> None:
    """Let a turn that was broken off go on; one that is under way is looked after later.

    `tries` are those before, without a person.
    """
    if handing.is_broken_off:
        _queue(handing, tries + 1)
    elif handing.is_under_way:
        look_after_handing_later(handing, tries)


def try_again(handing: Handing, by: User) -> None:
    """What could not be made or was broken off. Raises PermissionDenied, NotNowError."""
    demand(by, PERMISSION, handing)
    if handing.state != State.FAILED and not handing.is_broken_off:
        raise NotNowError
    _queue(handing, 0)


@transaction.atomic
def take_out(handing: Handing, by: User | None, how: str = "") -> RequestAnswer:
    """The file goes out: the first time it is kept as handed over, with its digest; each time it is noted.
    Without `by` who got the link does it. Raises PermissionDenied, NotNowError."""
    if by is not None:
        demand(by, PERMISSION, handing)
    locked = Handing.objects.for_firm(handing.firm).select_for_update().get(pk=handing.pk)
    if locked.state != State.READY:
        raise NotNowError
    answer = RequestAnswer.objects.for_firm(handing.firm).filter(handing=locked).first()
    if answer is None:
        answer = RequestAnswer.objects.create(
            firm=handing.firm, request=handing.request, handing=locked, by=by or handing.by, to=handing.to,
            how=how or handing.how, withheld=handing.withheld, size=handing.size, digest=handing.digest,
            treatments=handing.treatments,
        )  # fmt: skip
    note(AuditEntry.Kind.SENT, answer, firm=handing.firm, by=by, reason="bundle")
    return answer


def drop(handing: Handing, by: User) -> None:
    """The file goes; what went in, its digest and to whom it went stay. Raises PermissionDenied."""
    demand(by, PERMISSION, handing)
    note(AuditEntry.Kind.REMOVED, handing, firm=handing.firm, by=by)
    let_go(handing)


def _searched(request: RecordsRequest) -> int:
    """How many entries the log has in which nothing fits. Raises EmptyLogError, FitsByNowError."""
    head = newest_head(request.firm)
    if head is None:
        raise EmptyLogError
    if signed_matches(request).exists():
        raise FitsByNowError
    return head.size


def _queue(handing: Handing, tries: int) -> None:
    """Queued first is what looks after it: a worker that dies must not leave it half made."""
    run = uuid4()
    same = Handing.objects.for_firm(handing.firm).filter(pk=handing.pk, run=handing.run, state=handing.state)
    if not same.update(run=run, state=State.WAITING, noted_at=clock.now()):
        raise NotNowError
    look_after_handing_later(handing, tries)
    task = make_handing.enqueue(str(handing.pk), str(handing.firm_id), str(run))
    rows = Handing.objects.for_firm(handing.firm).filter(pk=handing.pk, run=run)
    rows.update(task=task.id)
