"""By which means a person can be told: what the rules allow, and what is known of how to reach them. Pure."""

from dataclasses import dataclass
from uuid import UUID

from compliance.notices.tellings import Telling
from records.document.words import WORD_LISTS

MEANS = ("email", "letter", "door", "phone", "text-message", "in-person")
"""The order in which they are offered: what leaves a proof by itself before what somebody must write down."""


@dataclass(frozen=True)
class Contact:
    """One person or household, and how to reach them. `row`: the id of the row that it was read from."""

    to: str
    name: str = ""
    address: tuple[str, ...] = ()
    email: str = ""
    phone: str = ""
    language: str = ""
    wishes_phone: bool = False
    walk: int = 0
    row: UUID | None = None
    not_by: frozenset[str] = frozenset()
    """Means by which this person does not want to be told."""


def allowed(telling: Telling) -> frozenset[str]:
    """The means by which every rule that asks for this person is satisfied."""
    asked = [set(one.duty.means) for one in telling.asks if one.duty.means]
    return frozenset(set(WORD_LISTS["means"]).intersection(*asked))


def ways_of(telling: Telling, contact: Contact) -> tuple[str, ...]:
    """The means that can be used, the best first; none if what is known of them reaches them by none."""
    known = {
        "email": contact.email,
        "letter": contact.address,
        "door": contact.address,
        "phone": contact.phone,
        "text-message": contact.phone,
        "in-person": contact.address,
    }
    first = ("phone",) if contact.wishes_phone else ()
    fitting = allowed(telling) - contact.not_by
    return tuple(one for one in dict.fromkeys((*first, *MEANS)) if one in fitting and known[one])


def languages_of(telling: Telling, contact: Contact, otherwise: str) -> tuple[str, ...]:
    """Those that a rule asks for, all of them; else the person's, or the firm's."""
    asked = tuple(dict.fromkeys(language for one in telling.asks for language in one.duty.languages))
    return asked or (contact.language or otherwise,)
