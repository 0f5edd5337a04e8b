"""What came to the wrong address, as whoever got it says: until the row has another one, nothing goes there.
And what came back: until something gets there again, nothing goes there unasked."""

from collections.abc import Callable, Hashable, Iterable, Sequence
from datetime import datetime
from uuid import UUID

from compliance.notices.ways import MEANS, Contact
from records.models import Notice, NoticeTask, Treatment
from records.outbox.folded import reached_at

State = Notice.State
Where = tuple[str, UUID | None, Hashable]


def came_wrong(treatment: Treatment) -> Callable[[Contact], frozenset[str]]:
    """By which means each person is not to be told for it, asked for once."""
    tasks = NoticeTask.objects.for_firm(treatment.firm).select_related("notice")
    said = tasks.filter(kind=NoticeTask.Kind.WRONG_ADDRESS, taken_back_at=None, notice__site=treatment.site_id)
    wrong = {_where(task.notice, task.notice.means, task.notice.row) for task in said}
    return lambda one: frozenset(means for means in MEANS if wrong & {*_places(one, means)})


def came_back(treatment: Treatment) -> Sequence[Notice]:
    """Notices of all treatments of the site that were not taken or came back, and none got there since."""
    rows = Notice.objects.for_firm(treatment.firm).filter(site=treatment.site_id, erasure=None).defer("text")
    refused = list(rows.filter(state=State.REFUSED, tasks__kind=NoticeTask.Kind.REFUSED))
    if not refused:
        return ()
    first = min(one.made_at for one in refused)
    since = rows.filter(state__in=(State.SENT, State.DELIVERED), made_at__gt=first)
    arrived = [(_where(one, one.means, one.row), one.made_at) for one in since]
    return [one for one in refused if not _arrived_since(one, arrived)]


def _arrived_since(notice: Notice, arrived: Iterable[tuple[Where, datetime]]) -> bool:
    where = _where(notice, notice.means, notice.row)
    return any(there == where and at > notice.made_at for there, at in arrived)


def _places(contact: Contact, means: str) -> list[Where]:
    """A notice to a customer names no row."""
    return [_where(contact, means, row) for row in (contact.row, None)]


def _where(one: Contact | Notice, means: str, row: UUID | None) -> Where:
    return one.to, row, reached_at(means, one.email, one.phone) or tuple(one.address)
