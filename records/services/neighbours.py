"""Write who is near a site by hand. Who did what says that it was done, and nothing of whom."""

from datetime import date
from typing import Any

from django.db import transaction

from records.models import Neighbour, NeighbourList, Occupant, Site
from records.services.audit import Kind, note

Row = Neighbour | Occupant


@transaction.atomic
def save_person(row: Row, by: Any) -> None:
    """A row that is new or was changed. A distance that is typed outranks one that was worked out."""
    kind = Kind.CREATED if row._state.adding else Kind.CHANGED
    if isinstance(row, Neighbour):
        _as_entered(row)
    row.save()
    note(kind, row, firm=row.firm, by=by)


@transaction.atomic
def remove_person(row: Row, by: Any) -> None:
    note(Kind.REMOVED, row, firm=row.firm, by=by)
    row.delete()


@transaction.atomic
def state_complete(site: Site, as_of: date, source: str, by: Any) -> NeighbourList:
    """Somebody's word that the list holds all who abut the site or are near enough to be told."""
    statement = NeighbourList.objects.create(firm=site.firm, site=site, as_of=as_of, source=source, by=by)
    note(Kind.CREATED, statement, firm=site.firm, by=by)
    return statement


def _as_entered(row: Neighbour) -> None:
    before = Neighbour.objects.for_firm(row.firm).filter(pk=row.pk).first()
    if before and (before.distance, before.abutting) == (row.distance, row.abutting):
        return
    row.known_by = Neighbour.Known.ENTERED
    row.touches_at_corner = False
    row.parcel = None
