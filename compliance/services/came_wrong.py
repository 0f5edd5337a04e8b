"""What came to the wrong address, as whoever got it says: until the row has another one, nothing goes there.
And what came back: until something gets there again, nothing goes there unasked."""

from collections.abc import Callable, Hashable, Iterable, Sequence
from datetime import datetime
from uuid import UUID

from django.db.models import OuterRef, Q, Subquery

from compliance.notices.ways import MEANS, Contact
from records.models import Attempt, Notice, NoticeTask, Treatment
from records.outbox.counting import REACHED
from records.outbox.folded import reached_at
from records.outbox.results import STATES, TASKS

State = Notice.State
CAME_BACK = [kind for kind, task in TASKS.items() if task == NoticeTask.Kind.REFUSED]
GOT_THERE = [kind for kind, state in STATES.items() if state in REACHED]
Where = tuple[str, UUID | None, Hashable]


def came_wrong(treatment: Treatment) -> Callable[[Contact], frozenset[str]]:
    """By which means each person is not to be told for it, asked for once."""
    tasks = NoticeTask.objects.for_firm(treatment.firm).select_related("notice")
    of_them = _of_their_sites(treatment, "notice__")
    said = tasks.filter(of_them, kind=NoticeTask.Kind.WRONG_ADDRESS, taken_back_at=None)
    wrong = {_where(task.notice, task.notice.means, task.notice.row) for task in said}
    return lambda one: frozenset(means for means in MEANS if wrong & {*_places(one, means)})


def came_back(treatment: Treatment) -> Sequence[Notice]:
    """Notices of all treatments of the site, to the customer also of their other sites, that were not taken or
    came back, whether they were withdrawn since or not, and none got there since."""
    near = Notice.objects.for_firm(treatment.firm).filter(_of_their_sites(treatment))
    rows = near.filter(erasure=None).defer("text")
    tried = Attempt.objects.for_firm(treatment.firm).filter(
        notice=OuterRef("pk"), kind__in=(*CAME_BACK, *GOT_THERE)
    )
    over = rows.filter(state__in=(State.REFUSED, State.WITHDRAWN))
    last = Subquery(tried.order_by("-at").values("kind")[:1])
    refused = list(over.annotate(came_of_it=last).filter(came_of_it__in=CAME_BACK))
    if not refused:
        return ()
    first = min(one.made_at for one in refused)
    since = rows.filter(state__in=(State.SENT, State.DELIVERED), made_at__gt=first)
    arrived = [(_where(one, one.means, one.row), one.made_at) for one in since]
    return [one for one in refused if not _arrived_since(one, arrived)]


def _of_their_sites(treatment: Treatment, notice: str = "") -> Q:
    """All of the site, and those to its customer of whichever site. `notice`: the way to it."""
    customer = {f"{notice}to": "customer", f"{notice}site__customer": treatment.site.customer_id}
    return Q(**{f"{notice}site": treatment.site_id}) | Q(**customer)


def _arrived_since(notice: Notice, arrived: Iterable[tuple[Where, datetime]]) -> bool:
    where = _where(notice, notice.means, notice.row)
    return any(there == where and at > notice.made_at for there, at in arrived)


def _places(contact: Contact, means: str) -> list[Where]:
    """A notice to a customer names no row."""
    return [_where(contact, means, row) for row in (contact.row, None)]


def _where(one: Contact | Notice, means: str, row: UUID | None) -> Where:
    return one.to, row, reached_at(means, one.email, one.phone) or tuple(one.address)
