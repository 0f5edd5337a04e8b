"""Plan a treatment: a row, and a working document into which everything known is written."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db import transaction

from records import reference
from records.document.reader import read
from records.document.types import DOCUMENT_SCHEMA
from records.models import AuditEntry, Firm, Lot, Person, Product, Rig, Site, Surface, Treatment, User
from records.permissions import demand
from records.services.audit import change, note
from records.services.numbers import next_number
from records.services.projection import project
from shared.quantities import Quantity
from shared.tenancy import FirmOwned


@dataclass(frozen=True)
class PlannedProduct:
    """A product of the planned mix, from which lot, and how much of it."""

    product: Product
    lot: Lot | None = None
    amount: Quantity | None = None


@dataclass(frozen=True, kw_only=True)
class Plan:
    """What is known of a treatment before it is made. `planned_at` has an offset."""

    site: Site
    surfaces: Sequence[Surface]
    planned_at: datetime
    people: Sequence[Person] = ()
    products: Sequence[PlannedProduct] = ()
    diluent: Quantity | None = None
    rig: Rig | None = None
    targets: Sequence[str] = ()

    def rows(self) -> list[FirmOwned]:
        """Every row that the plan names."""
        lines = [row for line in self.products for row in (line.product, line.lot)]
        named = [self.site, *self.surfaces, *self.people, *lines, self.rig]
        return [row for row in named if row is not None]


@transaction.atomic
def plan_treatment(firm: Firm, by: User, plan: Plan) -> Treatment:
    """Make the treatment, number it and write the plan into its document.

    Raises PermissionDenied if `by` may not plan in this firm, ValueError if the plan names another firm's
    row, a surface of another site or a lot of another product, DocumentFaults if a row cannot stand in a
    document.
    """
    demand(by, "records.plan_treatment", firm)
    _refuse_strange_rows(firm, plan)
    local = plan.planned_at.astimezone(ZoneInfo(plan.site.time_zone or firm.time_zone))
    treatment = Treatment(
        uuid=uuid.uuid4(),
        firm=firm,
        site=plan.site,
        number=next_number(firm, local.year),
        planned_at=plan.planned_at,
        planned_by=by,
    )
    treatment.document = _document(treatment, plan, local)
    project(treatment, read(treatment.document))
    planned = [change(name, None, value) for name, value in treatment.document.items()]
    note(AuditEntry.Kind.CREATED, treatment, firm=firm, by=by, changes=planned)
    return treatment


def _refuse_strange_rows(firm: Firm, plan: Plan) -> None:
    if any(row.firm_id != firm.pk for row in plan.rows()):
        raise ValueError("the plan names a row of another firm")
    if any(surface.site_id != plan.site.pk for surface in plan.surfaces):
        raise ValueError("the plan names a surface of another site")
    if any(line.lot and line.lot.label.product_id != line.product.pk for line in plan.products):
        raise ValueError("the plan names a lot of another product")


def _document(treatment: Treatment, plan: Plan, local: datetime) -> reference.Json:
    day = local.date()
    document = {
        "schema": DOCUMENT_SCHEMA,
        "record": {"id": str(treatment.uuid), "number": treatment.number, "version": 1},
        "firm": reference.firm_part(treatment.firm, day),
        "customer": reference.customer_part(plan.site.customer),
        "site": reference.site_part(plan.site),
        "timing": {"planned_at": local.isoformat(timespec="seconds")},
        "people": [reference.person_part(person, day) for person in plan.people],
        "surfaces": [_surface(surface) for surface in plan.surfaces],
        "mixes": [_mix(plan, local)] if plan.products else [],
        "equipment": [reference.rig_part(plan.rig, day)] if plan.rig else [],
        "targets": list(plan.targets),
    }
    return {name: section for name, section in document.items() if section != []}


def _surface(surface: Surface) -> reference.Json:
    area = surface.slope_area
    return reference.surface_part(surface) | reference.filled(treated_area=area and area.as_json())


def _mix(plan: Plan, local: datetime) -> reference.Json:
    return reference.filled(
        id=str(uuid.uuid4()),
        products=[_product(line, local) for line in plan.products],
        diluent=plan.diluent and {"name": "water", "amount": plan.diluent.as_json()},
        equipment=plan.rig and plan.rig.name,
        surfaces=[{"surface": surface.name} for surface in plan.surfaces],
    )


def _product(line: PlannedProduct, local: datetime) -> reference.Json:
    part = reference.product_part(line.product, line.lot, local.date())
    return part | reference.filled(amount=line.amount and line.amount.as_json())
