"""Earlier treatments of the same surfaces with the same product."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from compliance.facts_reader.unmeasured import unmeasured_sum
from compliance.rulebook.facts import Paths
from compliance.rulebook.sizes import Exact, Measured
from records.document import amounts
from records.document.areas import surfaces_of
from records.document.computed import NoAmount
from records.document.context import Context
from records.document.days import treatment_day
from records.document.types import Surface, TreatmentDocument


@dataclass(frozen=True)
class Earlier:
    """One earlier use of a product on a surface: its day and where it stands in the earlier document."""

    document: TreatmentDocument
    path: str
    day: date
    surface: int
    mix: int
    product: int


@dataclass(frozen=True)
class History:
    """The earlier uses of one product on the surfaces of its mix; `lacks`: what is missing to know them."""

    uses: tuple[Earlier, ...]
    surfaces: tuple[int, ...]
    day: date | None
    lacks: Paths

    def days_between(self) -> tuple[Measured, ...]:
        """Local days since the last earlier use, in days."""
        if self.lacks or self.day is None:
            return (Measured(None, self.lacks, self.lacks),)
        if not self.uses:
            return ()
        last = max(self.uses, key=lambda use: use.day)
        days = (self.day - last.day).days
        return (Measured(Exact(Fraction(days), "day"), ("timing.started_at", last.path)),)

    def applications_per_year(self) -> tuple[Measured, ...]:
        """For each surface, the earlier treatments of the calendar year, and this one."""
        if self.lacks or self.day is None:
            return (Measured(None, self.lacks, self.lacks),)
        return tuple(
            Measured(1 + len({use.path for use in self._this_year(surface)}), (f"surfaces[{surface}]",))
            for surface in self.surfaces
        )

    def per_year(
        self, document: TreatmentDocument, mix: int, product: int, unit: str
    ) -> tuple[Measured, ...]:
        """For each surface, product applied per area in the calendar year, this treatment counted."""
        if self.lacks or self.day is None:
            return (Measured(None, self.lacks, self.lacks),)
        return tuple(self._sum(surface, document, mix, product, unit) for surface in self.surfaces)

    def _sum(self, surface: int, document: TreatmentDocument, mix: int, product: int, unit: str) -> Measured:
        rates = [("", amounts.product_rate(document, mix, product, unit))]
        for use in self._this_year(surface):
            rates.append((f"{use.path}.", amounts.product_rate(use.document, use.mix, use.product, unit)))
        unknown = [(before, rate) for before, rate in rates if isinstance(rate, NoAmount)]
        if unknown:
            return unmeasured_sum(unknown)
        total = sum((rate.exact for _, rate in rates if not isinstance(rate, NoAmount)), Fraction(0))
        return Measured(Exact(total, unit), (f"surfaces[{surface}]",))

    def _this_year(self, surface: int) -> list[Earlier]:
        year = self.day.year if self.day else 0
        return [use for use in self.uses if use.surface == surface and use.day.year == year]


def history_of(document: TreatmentDocument, context: Context, mix: int, product: int) -> History:
    """What is known of earlier uses. The record itself (an earlier version of it) does not count."""
    day = treatment_day(document)
    line = ((document.mixes or [])[mix].products or [])[product]
    surfaces = surfaces_of(document, mix)
    lacks = _lacks(context, day, surfaces, line.registration_number, f"mixes[{mix}].products[{product}]")
    if lacks or day is None or line.registration_number is None:
        return History((), tuple(surfaces or ()), day, lacks)
    uses, unknown = [], []
    for number, other in enumerate(context.earlier or []):
        path, other_day = f"context.earlier[{number}]", treatment_day(other)
        found = _uses(other, path, other_day or day, document, surfaces or [], line.registration_number)
        if found and other.record.id is not None and other.record.id == document.record.id:
            continue
        if found and other_day is None:
            unknown.append(f"{path}.timing.started_at")
        elif other_day is not None and other_day <= day:
            uses += found
    return History(tuple(uses), tuple(surfaces or ()), day, tuple(unknown))


def _lacks(
    context: Context, day: date | None, surfaces: list[int] | None, registration: str | None, path: str
) -> Paths:
    lacks = ["timing.started_at"] if day is None else []
    lacks += ["surfaces"] if surfaces is None else []
    lacks += [f"{path}.registration_number"] if registration is None else []
    lacks += ["context.earlier"] if context.earlier is None else []
    return tuple(lacks)


def _uses(
    other: TreatmentDocument,
    path: str,
    day: date,
    document: TreatmentDocument,
    surfaces: list[int],
    registration: str,
) -> list[Earlier]:
    uses = []
    for mix, parts in enumerate(other.mixes or []):
        for product, line in enumerate(parts.products or []):
            if line.registration_number == registration:
                treated = [(other.surfaces or [])[index] for index in surfaces_of(other, mix) or []]
                uses += [
                    Earlier(other, path, day, index, mix, product)
                    for index in surfaces
                    if any(_same((document.surfaces or [])[index], surface) for surface in treated)
                ]
    return uses


def _same(one: Surface, other: Surface) -> bool:
    """The same surface: by id where both have one, else by name."""
    if one.id is not None and other.id is not None:
        return one.id == other.id
    return one.name is not None and one.name == other.name
