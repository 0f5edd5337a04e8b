"""Who the people of a plan are, and how to reach them: read from the firm's rows."""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from compliance.notices.tellings import Telling
from compliance.notices.timeline import Plan
from compliance.notices.ways import Contact
from compliance.papers.notice.addresses import address_lines
from compliance.services.came_wrong import came_wrong
from records.document.types import Address
from records.models import Neighbour, NotByMeans, Notice, Occupant, RegisteredPerson, Treatment
from records.outbox.folded import reached_at
from records.outbox.ways_out import closed
from records.reference import address_part

State = Notice.State
_OF_A_LIST: Mapping[str, Any] = {"neighbour": Neighbour, "registered-person": RegisteredPerson}


def contacts_of(treatment: Treatment, plan: Plan) -> list[tuple[Telling, Contact]]:
    """Each person to be told with how to reach them, then those whom no rule names and the firm may wish to
    tell; the occupants of a site each by themselves."""
    tellings = [*plan.tellings, *_others(plan)]
    rows = {to: _rows(to, tellings, treatment, plan) for to in _OF_A_LIST}
    found = [(telling, one) for telling in tellings for one in _of(telling, treatment, plan, rows)]
    return _with_ways_shut(treatment, found)


def unlisted(treatment: Treatment, told: Iterable[Notice]) -> list[tuple[Telling, Contact]]:
    """Those who were told and are in no list any more, as the notices had them."""
    return _with_ways_shut(treatment, [(nobody_asks(one.to), _contact_on(one)) for one in told])


def nobody_asks(to: str, number: int | None = None) -> Telling:
    """One whom no rule names."""
    return Telling(to, number, (), ())


def _contact_on(notice: Notice) -> Contact:
    return Contact(
        notice.to,
        notice.name,
        tuple(notice.address),
        notice.email,
        notice.phone,
        row=notice.row,
    )


def failed_by(
    contact: Contact, word: Notice | None, notices: Iterable[Notice], back: Iterable[Notice]
) -> frozenset[str]:
    """By which means notices to where this person is reached came to nothing, since they were last told: those
    of this treatment that were refused, and what came `back`."""
    refused = (*(one for one in notices if one.state == State.REFUSED), *back)
    later = (one for one in refused if not word or one.made_at > word.made_at)
    return frozenset(one.means for one in later if _reaches(one) == _reaches(contact, one.means))


def _reaches(one: Contact | Notice, means: str = "") -> Hashable:
    return reached_at(means or one.means, one.email, one.phone) or tuple(one.address)


def again(ways: Sequence[str], word: Notice | None, failed: frozenset[str]) -> tuple[str, ...]:
    """How to tell somebody: as they were told before, but what has failed since comes last."""
    as_before = [one for one in ways if word and one == word.means]
    left = [one for one in dict.fromkeys((*as_before, *ways)) if one not in failed]
    return (*left, *(one for one in ways if one in failed))


def _others(plan: Plan) -> Iterable[Telling]:
    asked = {(to, one.number) for one in plan.tellings for to in (one.to, *one.instead)}
    near = [("neighbour", number) for number, _one in enumerate(plan.context.neighbours or ())]
    for to, number in [("customer", None), ("occupant", None), *near]:
        if (to, number) not in asked:
            yield nobody_asks(to, number)


def _of(telling: Telling, treatment: Treatment, plan: Plan, rows: Mapping[str, Any]) -> Iterable[Contact]:
    if telling.to == "customer":
        return [_contact("customer", treatment.site.customer)]
    if telling.to == "occupant":
        living = Occupant.objects.for_firm(treatment.firm).filter(site=treatment.site)
        at_the_site = [_at_the_site(telling.to, treatment)] if telling.asks else []
        return [_contact("occupant", row) for row in living] or at_the_site
    listed = _listed(telling, plan)
    if row := rows.get(telling.to, {}).get(listed and listed.id):
        return [_contact(telling.to, row)]
    return [Contact(telling.to, address=address_lines(listed.address) if listed else ())]


def _listed(telling: Telling, plan: Plan) -> Any:
    people = plan.context.neighbours if telling.to == "neighbour" else plan.context.registered_persons
    return people[telling.number] if people and telling.number is not None else None


def _rows(to: str, tellings: Iterable[Telling], treatment: Treatment, plan: Plan) -> Mapping[str, Any]:
    listed = (_listed(one, plan) for one in tellings if one.to == to)
    ids = [one.id for one in listed if one and one.id]
    found = _OF_A_LIST[to].objects.for_firm(treatment.firm).filter(pk__in=ids) if ids else ()
    return {str(row.pk): row for row in found}


def _contact(to: str, row: Any) -> Contact:
    return Contact(
        to,
        name=row.name,
        address=address_lines(Address.model_validate(address_part(row) or {})),
        email=row.email,
        phone=row.phone,
        language=getattr(row, "language", ""),
        wishes_phone=getattr(row, "wishes_phone", False),
        walk=getattr(row, "walk", 0),
        row=row.pk,
    )


def _at_the_site(to: str, treatment: Treatment) -> Contact:
    return Contact(to, address=address_lines(Address.model_validate(address_part(treatment.site) or {})))


def _with_ways_shut(
    treatment: Treatment, found: Sequence[tuple[Telling, Contact]]
) -> list[tuple[Telling, Contact]]:
    """With the means by which each is not to be told: not wanted, never there, or none goes out."""
    not_by = _not_wanted(treatment, [contact for _telling, contact in found])
    wrong, shut = came_wrong(treatment), closed(treatment.firm)
    return [(telling, replace(one, not_by=not_by(one) | wrong(one) | shut)) for telling, one in found]


def _not_wanted(treatment: Treatment, contacts: Sequence[Contact]) -> Any:
    """By which means each does not want to be told, read once for all."""
    at = {reached_at(means, one.email, one.phone) for one in contacts for means in _BY} - {""}
    asked = NotByMeans.objects.for_firm(treatment.firm).filter(reached__in=at) if at else ()
    known = {(row.means, row.reached) for row in asked}
    return lambda one: frozenset(
        means for means in _BY if (means, reached_at(means, one.email, one.phone)) in known
    )


_BY = ("email", "phone", "text-message")
