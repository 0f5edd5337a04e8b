"""What was sent for a treatment, as the plan has it: whom it reached by their place in the lists."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from uuid import UUID

from compliance.notices.duty import NOBODY, Told
from records.document.context import Context
from records.models import Notice, Treatment
from records.outbox.counting import that_count
from records.outbox.in_document import entry_ids, means_of
from records.outbox.stating import says_otherwise
from records.reference import filled

_LISTED = ("neighbour", "registered-person")


def told_of(treatment: Treatment, context: Context) -> Iterator[Told]:
    """What was sent for the treatment."""
    return told_by(treatment, Notice.objects.for_firm(treatment.firm).filter(treatment=treatment), context)


def told_by(treatment: Treatment, notices: Iterable[Notice], context: Context) -> Iterator[Told]:
    """Each notice that counts, once in each of its languages. What went to somebody who is in no list any more
    was for nobody in it."""
    numbers = _numbers(context)
    for row in that_count(notices):
        number = numbers.get((row.to, row.row), _of_no_list(row)) if row.row else None
        for language in row.languages or [None]:
            yield Told(
                to=row.to,
                number=number,
                name=row.name,
                means=means_of(row),
                language=language,
                sent_at=row.sent_at,
                delivered_at=row.delivered_at,
                planned_at=row.planned_at,
                alternates=tuple(date.fromisoformat(day) for day in row.alternate_dates),
                otherwise=says_otherwise(row, treatment),
            )


def sent_notices(treatment: Treatment) -> list[dict[str, object]]:
    """What the context knows of each entry of the document: whom it was for, if it said something else, and
    if it counts at all. Once it is erased who that was, nothing of it is known."""
    rows = list(Notice.objects.for_firm(treatment.firm).filter(treatment=treatment, erasure=None))
    counting = {row.pk for row in that_count(rows)}
    return [
        filled(
            id=id_,
            person=str(row.row) if row.row else None,
            otherwise=says_otherwise(row, treatment) or None,
            lost=row.pk not in counting or None,
        )
        for row in rows
        for id_ in entry_ids(row).values()
    ]


def known_notices(treatment: Treatment) -> frozenset[str]:
    """The ids under which the notices that were made here stand in the document, whatever became of them."""
    rows = Notice.objects.for_firm(treatment.firm).filter(treatment=treatment).only("languages")
    return frozenset(id_ for row in rows for id_ in entry_ids(row).values())


def _of_no_list(notice: Notice) -> int | None:
    return NOBODY if notice.to in _LISTED else None


def _numbers(context: Context) -> Mapping[tuple[str, UUID], int]:
    lists = {"neighbour": context.neighbours, "registered-person": context.registered_persons}
    return {
        (to, UUID(one.id)): number
        for to, people in lists.items()
        for number, one in enumerate(people or ())
        if one.id
    }
