"""Who is near a site, in the shape that the rules' context has for it.

None says that nobody knows: no word was given that the list of neighbours is complete, or no register of the
site's place was brought in. An empty list says that there is nobody. No names are in it: the ids lead to them.
The libraries of shapes are imported where they are needed: they take a third of a second.
"""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.db.models import F, Q, QuerySet

from records.document.types import LIST_ITEMS
from records.models import Firm, Neighbour, NeighbourList, Register, RegisteredPerson, Site
from records.reference import address_part, filled
from shared.quantities import Quantity

if TYPE_CHECKING:
    from records.registered_places import Placed

Json = dict[str, Any]
WHERE = ("pk", "line1", "line2", "city", "region", "postcode", "country", "latitude", "longitude")


def neighbours_of(site: Site) -> list[Json] | None:
    """Those on the site's list, in walking order, if it is said to be complete."""
    if list_of(site) is None:
        return None
    rows = list(Neighbour.objects.for_firm(site.firm).filter(site=site)[: LIST_ITEMS + 1])
    return None if len(rows) > LIST_ITEMS else [_neighbour_part(each) for each in rows]


def neighbours_by_site(firm: Firm, sites: Iterable[UUID]) -> dict[UUID, list[Json] | None]:
    """The same for many sites at once."""
    sites = set(sites)
    complete = NeighbourList.objects.for_firm(firm).filter(site__in=sites).values_list("site", flat=True)
    found: dict[UUID, list[Json] | None] = {site: [] for site in complete}
    for row in Neighbour.objects.for_firm(firm).filter(site__in=found).iterator():
        found[row.site_id].append(_neighbour_part(row))
    return {site: people if len(people) <= LIST_ITEMS else None for site, people in found.items()}


def registered_near(site: Site) -> list[Json] | None:
    """Those whom a register of the site's places names and who may be near, the nearest first.

    More than a document's list holds can't be handed on; rather than a part of them, nothing is known then.
    """
    registers = registers_for(site)
    if not registers:
        return None
    from records.registered_places import Placing

    placing = Placing(site, complete=list_of(site) is not None)
    near = placing.near(persons_around(site, registers))
    return None if len(near) > LIST_ITEMS else [_registered_part(each) for each in near]


def list_of(site: Site) -> NeighbourList | None:
    """The newest word that the list of neighbours is complete."""
    return NeighbourList.objects.for_firm(site.firm).filter(site=site).first()


def registers_for(site: Site) -> list[Register]:
    """Registers of the site's places; none unless its state, or its country where no state is named, has one:
    a county's register alone does not tell whom the state's names."""
    states = [place for place in site.jurisdictions if place.count("-") == 1] or site.jurisdictions[:1]
    registers = Register.objects.for_firm(site.firm).filter(authority__in=site.jurisdictions)
    held = list(registers)
    return held if {each.authority for each in held} >= set(states) and states else []


def persons_around(site: Site, registers: list[Register]) -> list[Any]:
    """Bare rows without names: a register may have thousands, and every check looks at them."""
    named = RegisteredPerson.objects.for_firm(site.firm).filter(register__in=registers)
    authority = F("register__authority")
    return list(named.annotate(authority=authority).values_list(*WHERE, "authority", named=True))


def _neighbour_part(row: Neighbour) -> Json:
    flags = {"abutting": row.abutting, "dwelling": row.dwelling}
    return filled(id=str(row.pk), address=address_part(row), distance=_length(row.distance), **flags)


def _registered_part(placed: "Placed") -> Json:
    flags = {"abutting": placed.abutting, "authority": placed.person.authority}
    where = {"address": address_part(placed.person), "distance": _length(placed.distance)}
    return filled(id=str(placed.person.pk), **where, **flags)


def _length(length: Quantity | None) -> Json | None:
    return length and {"value": length.value, "unit": length.unit}


def listed_after(rows: QuerySet[Neighbour], last: Neighbour | None) -> QuerySet[Neighbour]:
    """Those that come after `last` in the order of the list."""
    if last is None:
        return rows
    names, beyond = Neighbour._meta.ordering, Q()
    for place, name in enumerate(names):
        same = {before: getattr(last, before) for before in names[:place]}
        beyond |= Q(**same, **{f"{name}__gt": getattr(last, name)})
    return rows.filter(beyond)
