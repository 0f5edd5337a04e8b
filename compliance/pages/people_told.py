"""Who the people are that a plan names by their place in a list: names and addresses, least shown."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import get_language

from compliance.notices.tellings import Telling
from records.document.context import Context
from records.document.context import Neighbour as Listed
from records.document.words import WORD_LISTS
from records.models import Firm, Neighbour, RegisteredPerson
from shared.quantities import Quantity

_ROWS: Mapping[str, Any] = {"neighbour": Neighbour, "registered-person": RegisteredPerson}


@dataclass(frozen=True)
class Person:
    """One that is told, as the page calls them: a name, where they live, how far away."""

    name: str
    where: str = ""
    distance: Quantity | None = None
    row: str = ""


@dataclass(frozen=True)
class People:
    """Looks people up; with `names` those on a register are named, which a crew need not know."""

    firm: Firm
    context: Context
    customer: str
    names: bool

    def of(self, tellings: Iterable[Telling]) -> list[Person]:
        tellings = list(tellings)
        rows = {to: self._rows(to, tellings) for to in _ROWS}
        return [self._person(one, rows.get(one.to, {})) for one in tellings]

    def _rows(self, to: str, tellings: list[Telling]) -> Mapping[str, Any]:
        ids = [listed.id for one in tellings if one.to == to and (listed := self._listed(one)) and listed.id]
        model = _ROWS[to]
        return {str(row.pk): row for row in model.objects.for_firm(self.firm).filter(pk__in=ids)}

    def _listed(self, telling: Telling) -> Listed | None:
        known = self.context.neighbours if telling.to == "neighbour" else self.context.registered_persons
        return known[telling.number] if known and telling.number is not None else None

    def _person(self, telling: Telling, rows: Mapping[str, Any]) -> Person:
        listed = self._listed(telling)
        if listed is None:
            return Person(self.customer if telling.to == "customer" else "")
        row = rows.get(str(listed.id))
        named = row is not None and (self.names or telling.to != "registered-person")
        where = (listed.address and listed.address.line1) or ""
        return Person(row.name if named else "", where, listed.distance, str(listed.id or ""))


def recipient_word(telling: Telling) -> str:
    """What a person is to the rules: `customer`, or `customer or occupant` where either will do."""
    language = (get_language() or "en")[:2]
    words = [WORD_LISTS["recipient"][to].say(language) for to in (telling.to, *telling.instead)]
    return (" or " if language == "en" else " o ").join(words)
