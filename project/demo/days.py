"""A visit with what was used on it: product lines, lots and amounts, before anything is entered."""

from datetime import timedelta
from decimal import Decimal

from project.demo.amounts import Areas, Json, amounts_of, quantity
from project.demo.day import Day
from project.demo.events import Events
from project.demo.rows import Rows
from project.demo.source import FirmSource
from project.demo.visits import Visit
from records.models import Batch, Surface
from records.services.planning import Plan, PlannedProduct
from shared.quantities import from_fraction, read


class DayMaker:
    """Turns the visits of one firm into days with amounts."""

    def __init__(self, source: FirmSource, rows: Rows) -> None:
        self.source, self.rows = source, rows
        self.ordinary = {product["key"]: product["ordinary"] for product in source.products}
        self.usual = {person["name"]: person["usual"] for person in source.people}
        self.rigs = {rig["name"]: rig for rig in source.rigs}

    def day(self, visit: Visit, events: Events) -> Day:
        fault = events.faults.get(visit.index, {})
        rig = self.rigs[visit.rig]
        tank, flow = (Decimal(rig[name].split()[0]) for name in ("tank", "flow"))
        lines = [self.ordinary[key] for key in products_of(visit)]
        amounts = amounts_of(visit, lines, self.areas(visit), tank, fault.get("what") == "too-strong")
        return Day(
            visit=visit,
            amounts=amounts,
            usual=self.usual,
            flow=flow,
            fault=fault.get("what", ""),
            note=self.note(visit, fault),
            stood_down=events.stood_down.get(visit.index),
        )

    def areas(self, visit: Visit) -> Areas:
        """Treated area of each surface in square feet, as the plan will write it."""
        surfaces = self.rows.surfaces(visit.job.site, visit.job.surfaces)
        return {surface.name: square_feet(surface) for surface in surfaces}

    def note(self, visit: Visit, fault: Json) -> str:
        """A fault that no rule asks about stands in the notes; now and then the crew wrote something else."""
        if fault.get("what") == "drain-left-open":
            return str(fault["reason"])
        by_job = self.source.story.get("notes", {})
        notes = [*by_job.get(visit.job.name, []), *by_job.get("any", [])]
        return str(notes[visit.index // 6 % len(notes)]) if notes and visit.index % 6 == 2 else ""

    def plan(self, day: Day) -> Plan:
        visit, rows = day.visit, self.rows
        people = [visit.applicator, visit.helper] if visit.helper else [visit.applicator]
        products = [
            PlannedProduct(rows.products[key], rows.lot(key, visit.day), read(amount))
            for key, amount in zip(products_of(visit), day.amounts.products, strict=True)
        ]
        label = products[0].lot.label.label if products[0].lot else {}
        return Plan(
            site=rows.sites[visit.job.site],
            surfaces=rows.surfaces(visit.job.site, visit.job.surfaces),
            planned_at=visit.starts_at,
            people=[rows.people[name] for name in people],
            products=products,
            diluent=read(day.amounts.diluent) if day.amounts.diluent else None,
            rig=None if visit.by_hand else rows.rigs[visit.rig],
            targets=label.get("targets", [])[:2],
        )

    def batch(self, days: list[Day]) -> Batch:
        """One tank for several days' loads, mixed in the yard half an hour before the first."""
        first = days[0]
        products = [
            {"name": self.rows.products[key].name, "lot": self.rows.lot(key, first.visit.day).number}
            | {"amount": total([day.amounts.products[place] for day in days])}
            for place, key in enumerate(products_of(first.visit))
        ]
        batch = Batch(
            firm=self.rows.firm,
            rig=self.rows.rigs[first.visit.rig],
            mixed_at=first.visit.starts_at - timedelta(minutes=30),
            mixed_at_place="in the yard",
            products=products,
            diluent={"name": "water", "amount": total([day.amounts.diluent or {} for day in days])},
            volume=read(total([load["volume"] for day in days for load in day.amounts.mix["loads"]])),
        )
        batch.full_clean()
        batch.save()
        return batch


def products_of(visit: Visit) -> tuple[str, ...]:
    """The product, with the spreader every other time that a roof is washed."""
    with_spreader = visit.product == "moss-wash" and visit.job.name == "roof" and visit.turn % 2
    return (visit.product, "spreader") if with_spreader else (visit.product,)


def total(quantities: list[Json]) -> Json:
    """The sum of quantities of one unit."""
    return quantity(sum(Decimal(each["value"]) for each in quantities), quantities[0]["unit"])


def square_feet(surface: Surface) -> Decimal:
    area = surface.slope_area
    if area is None:
        raise ValueError(f"{surface.name} has no plan area")
    return Decimal(from_fraction(area.to("ft**2"), "ft**2").value)
