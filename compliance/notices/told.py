"""What was sent already: read from the treatment document, and shared out among those to be told. Pure."""

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime

from compliance.notices.duty import Told
from records.document.context import Context
from records.document.types import TreatmentDocument
from shared.folded import folded
from shared.times import read_time

Person = tuple[str, int | None]


def told_in(document: TreatmentDocument, besides: Container[str] = ()) -> tuple[Told, ...]:
    """The notices on the record, but for those of these ids, of which more is known elsewhere."""
    return tuple(
        Told(
            to=one.to or "",
            name=one.name or "",
            means=one.means,
            language=one.language,
            sent_at=_moment(one.sent_at),
            delivered_at=_moment(one.delivered_at),
            planned_at=_moment(one.planned_at),
            alternates=_days(one.alternate_dates),
        )
        for one in document.notices or []
        if one.id not in besides and one.notice not in besides
    )


def share_out(
    people: Iterable[Person], told: Sequence[Told], context: Context
) -> Mapping[Person, tuple[Told, ...]]:
    """The notices of each person: those of its number or name, else the next one of each language that names
    nobody. Whoever is in no list has all that are to no neighbour and no registered person."""
    people = list(people)
    names = {person: _name(person, context) for person in people}
    own = {person: tuple(_own(person, names[person], told)) for person in people}
    kinds = dict.fromkeys((one.to, one.language) for one in told if _nameless(one))
    free = {
        kind: iter([one for one in told if _nameless(one) and (one.to, one.language) == kind]) for kind in kinds
    }
    for person in people:
        if person[1] is not None and not own[person]:
            given = (next(rest, None) for (to, _), rest in free.items() if to == person[0])
            own[person] = tuple(one for one in given if one)
    return own


def _own(person: Person, name: str, told: Sequence[Told]) -> Iterator[Told]:
    to, number = person
    for one in told:
        if number is None:
            if one.to not in ("neighbour", "registered-person"):
                yield one
        elif one.to == to and (
            one.number == number or (one.number is None and name and folded(one.name) == name)
        ):
            yield one


def _nameless(one: Told) -> bool:
    return one.number is None and not one.name


def _name(person: Person, context: Context) -> str:
    to, number = person
    known = context.neighbours if to == "neighbour" else context.registered_persons
    return folded(known[number].name or "") if known and number is not None else ""


def _moment(text: str | None) -> datetime | None:
    return read_time(text) if text else None


def _days(texts: Sequence[str] | None) -> tuple[date, ...] | None:
    return None if texts is None else tuple(date.fromisoformat(text) for text in texts)
