"""What was sent for a treatment, as the plan has it: whom it reached by their place in the lists."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from uuid import UUID

from compliance.notices.duty import Told
from records.document.context import Context
from records.models import Notice, Treatment
from records.outbox.in_document import entry_ids

_REACHED = (Notice.State.SENT, Notice.State.DELIVERED)


def told_of(treatment: Treatment, context: Context) -> Iterator[Told]:
    """What was sent for the treatment."""
    return told_by(Notice.objects.for_firm(treatment.firm).filter(treatment=treatment), context)


def told_by(notices: Iterable[Notice], context: Context) -> Iterator[Told]:
    """Each notice that went out, once in each of its languages; one that came back is none,
    nor is one that calls the visit off."""
    numbers = _numbers(context)
    for row in notices:
        if row.state not in _REACHED or row.sent_at is None or row.called_off:
            continue
        number = numbers.get((row.to, row.row)) if row.row else None
        for language in row.languages or [None]:
            yield Told(
                to=row.to,
                number=number,
                name=row.name,
                means=row.means,
                language=language,
                sent_at=row.sent_at,
                delivered_at=row.delivered_at,
                planned_at=row.planned_at,
                alternates=tuple(date.fromisoformat(day) for day in row.alternate_dates),
            )


def known_notices(treatment: Treatment) -> frozenset[str]:
    """The ids under which the notices that were made here stand in the document, whatever became of them."""
    rows = Notice.objects.for_firm(treatment.firm).filter(treatment=treatment).only("languages")
    return frozenset(id_ for row in rows for id_ in entry_ids(row).values())


def _numbers(context: Context) -> Mapping[tuple[str, UUID], int]:
    lists = {"neighbour": context.neighbours, "registered-person": context.registered_persons}
    return {
        (to, UUID(one.id)): number
        for to, people in lists.items()
        for number, one in enumerate(people or ())
        if one.id
    }
