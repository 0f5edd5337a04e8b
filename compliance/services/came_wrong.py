"""What came to the wrong address, as whoever got it says: until the row has another one, nothing goes there."""

from collections.abc import Callable, Hashable
from uuid import UUID

from compliance.notices.ways import MEANS, Contact
from records.models import Notice, NoticeTask, Treatment
from records.outbox.folded import reached_at

Where = tuple[str, UUID | None, Hashable]


def came_wrong(treatment: Treatment) -> Callable[[Contact], frozenset[str]]:
    """By which means each person is not to be told for it, asked for once."""
    tasks = NoticeTask.objects.for_firm(treatment.firm).select_related("notice")
    said = tasks.filter(kind=NoticeTask.Kind.WRONG_ADDRESS, taken_back_at=None, notice__site=treatment.site_id)
    wrong = {_where(task.notice, task.notice.means, task.notice.row) for task in said}
    return lambda one: frozenset(means for means in MEANS if wrong & {*_places(one, means)})


def _places(contact: Contact, means: str) -> list[Where]:
    """A notice to a customer names no row."""
    return [_where(contact, means, row) for row in (contact.row, None)]


def _where(one: Contact | Notice, means: str, row: UUID | None) -> Where:
    return one.to, row, reached_at(means, one.email, one.phone) or tuple(one.address)
