"""What may be chosen from the firm's reference rows, and the item that a choice writes into the document."""

import uuid
from datetime import date
from typing import Any
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404

from records import reference
from records.models import Firm, Person, Product, Rig


def rows_of(kind: str, firm: Firm) -> QuerySet[Any]:
    """The rows of one kind (`people`, `rigs`, `labels`) that are in use."""
    if kind == "people":
        return Person.objects.for_firm(firm).filter(active=True)
    if kind == "rigs":
        return Rig.objects.for_firm(firm).filter(active=True)
    return Product.objects.for_firm(firm).order_by("name")


def choices_of(kind: str, firm: Firm) -> list[tuple[str, str]]:
    return [(str(row.pk), row.name) for row in rows_of(kind, firm)]


def new_item(kind: str, firm: Firm, chosen: str, day: date) -> dict[str, Any]:
    """A new item of a list: written from the row chosen, or begun empty with an id where `kind` is ''.

    Raises Http404 where the firm has no such row.
    """
    if not kind:
        return {"id": str(uuid.uuid4())}
    try:
        row = rows_of(kind, firm).filter(pk=UUID(chosen)).first()
    except ValueError:
        row = None
    if row is None:
        raise Http404(f"no such row of {kind}")
    return row_part(kind, row, day)


def row_part(kind: str, row: Any, day: date) -> dict[str, Any]:
    """The item that the row is written as on that day."""
    if kind == "people":
        return reference.person_part(row, day)
    return reference.rig_part(row, day) if kind == "rigs" else reference.product_part(row, None, day)
