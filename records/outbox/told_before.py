"""What the people of some pieces were told before of the same visit, so that none is told twice unasked."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db.models import Q

from records.models import Notice, Treatment
from records.outbox.counting import Person, person_of
from records.outbox.outdated import IN_HAND, still_holds
from records.outbox.piece import Piece

READY = Notice.State.READY


@dataclass(frozen=True)
class ToldBefore:
    """The notices of the visit, as it is planned, to each person."""

    to: Mapping[Person, Sequence[Notice]]

    def unknown_to(self, key: str, piece: Piece) -> bool:
        """Whether the person has another one than this, of which whoever sends it did not know."""
        if piece.known is None:
            return False
        found = (one for one in self._others(key, piece) if one.state in IN_HAND)
        return any(one.pk not in piece.known for one in found)

    def waiting(self, key: str, piece: Piece) -> list[Notice]:
        """Those instead of which this one goes out."""
        return [one for one in self._others(key, piece) if one.state == READY]

    def _others(self, key: str, piece: Piece) -> list[Notice]:
        if piece.known is None:
            return []
        return [one for one in self.to.get(_person(piece), ()) if one.key != key]


def told_before(treatment: Treatment, pieces: Sequence[Piece]) -> ToldBefore:
    people: dict[Person, list[Notice]] = {_person(piece): [] for piece in pieces}
    for one in _notices(treatment, pieces):
        if person_of(one) in people and still_holds(one, treatment):
            people[person_of(one)].append(one)
    return ToldBefore(people)


def _notices(treatment: Treatment, pieces: Sequence[Piece]) -> Iterable[Notice]:
    rows = [piece.row for piece in pieces if piece.row]
    of_them = Q(row__in=rows) | Q(row=None, to__in={piece.to for piece in pieces if not piece.row})
    found = Notice.objects.for_firm(treatment.firm).filter(of_them, treatment=treatment)
    return found.filter(state__in=(READY, *IN_HAND), came_wrong=False)


def _person(piece: Piece) -> Person:
    return piece.to, str(piece.row or "")
