"""Earlier treatments of the same surfaces with the same product."""

from datetime import date
from fractions import Fraction

from compliance.facts_reader.lines import earlier_lines_of, earlier_of, site_may_differ
from compliance.facts_reader.per_application import on_surface, same_product
from compliance.facts_reader.unmeasured import unmeasured_sum
from compliance.rulebook.facts import Paths
from compliance.rulebook.sizes import Exact, Measured
from records.document import amounts
from records.document.areas import treated_by
from records.document.computed import NoAmount
from records.document.context import Context
from records.document.days import treatment_day
from records.document.registration import registration_key
from records.document.types import Surface, TreatmentDocument
from shared.folded import folded
from shared.values import Value


class Earlier(Value, frozen=True):
    """One earlier use of a product on a surface: its day and where it stands in the earlier document."""

    document: TreatmentDocument
    path: str
    day: date
    surface: int
    mix: int
    product: int


class Maybe(Value, frozen=True):
    """An earlier treatment of which it is not known, for lack of members, whether it was such a use."""

    day: date
    lacks: Paths


class History(Value, frozen=True):
    """The earlier uses of one product on the surfaces of its mix, and what may have been one, of a known day.
    `lacks`: what is missing to know them; `lines`: those of this record that state the product."""

    uses: tuple[Earlier, ...]
    maybes: tuple[Maybe, ...]
    surfaces: tuple[int, ...]
    day: date | None
    lacks: Paths
    lines: tuple[tuple[int, int], ...] = ()

    def days_between(self) -> tuple[Measured, ...]:
        """Local days since the last earlier use, and since each later treatment that may be it, in days."""
        if self.lacks or self.day is None:
            return (Measured(None, self.lacks, self.lacks),)
        last = max(self.uses, key=lambda use: use.day, default=None)
        maybes = [maybe for maybe in self.maybes if last is None or maybe.day > last.day]
        known = [Measured(_days(last.day, self.day), ("timing.started_at", last.path))] if last else []
        unknown = [
            Measured(None, maybe.lacks, maybe.lacks, may_be=_days(maybe.day, self.day)) for maybe in maybes
        ]
        return (*known, *unknown)

    def applications_per_year(self) -> tuple[Measured, ...]:
        """For each surface, the earlier treatments of the calendar year, and this one."""
        if self.day is None or self._lacks_this_year:
            return (Measured(None, self._lacks_this_year, self._lacks_this_year),)
        return tuple(
            Measured(1 + len({use.path for use in self._this_year(surface)}), (f"surfaces[{surface}]",))
            for surface in self.surfaces
        )

    def per_year(self, document: TreatmentDocument, unit: str) -> tuple[Measured, ...]:
        """For each surface, product applied per area in the calendar year, this treatment counted."""
        if self.day is None or self._lacks_this_year:
            return (Measured(None, self._lacks_this_year, self._lacks_this_year),)
        return tuple(self._sum(surface, document, unit) for surface in self.surfaces)

    def _sum(self, surface: int, document: TreatmentDocument, unit: str) -> Measured:
        here = on_surface(document, self.lines, surface)
        rates = [("", amounts.product_rate(document, *line, unit)) for line in here]
        for use in self._this_year(surface):
            rates.append((f"{use.path}.", amounts.product_rate(use.document, use.mix, use.product, unit)))
        unknown = [(before, rate) for before, rate in rates if isinstance(rate, NoAmount)]
        if unknown:
            return unmeasured_sum(unknown)
        total = sum((rate.exact for _, rate in rates if not isinstance(rate, NoAmount)), Fraction(0))
        return Measured(Exact(total, unit), (f"surfaces[{surface}]",))

    @property
    def _lacks_this_year(self) -> Paths:
        maybes = (maybe for maybe in self.maybes if self.day and maybe.day.year == self.day.year)
        return (*self.lacks, *(path for maybe in maybes for path in maybe.lacks))

    def _this_year(self, surface: int) -> list[Earlier]:
        year = self.day.year if self.day else 0
        return [use for use in self.uses if use.surface == surface and use.day.year == year]


def history_of(
    document: TreatmentDocument, day: date | None, context: Context, mix: int, product: int
) -> History:
    """What is known of earlier uses before that day of the treatment. The record itself (an earlier version of
    it) does not count."""
    treated = treated_by(document, mix)
    line = ((document.mixes or [])[mix].products or [])[product]
    registration = registration_key(line.registration_number)
    lacks = [*(["timing.started_at"] if day is None else []), *treated.lacks]
    unnumbered = f"mixes[{mix}].products[{product}].registration_number"
    lacks += [unnumbered] if registration is None and context.earlier != [] else []
    lacks += ["context.earlier"] if context.earlier is None else []
    lines = tuple(same_product(document, mix, product))
    if lacks or day is None or registration is None:
        return History((), (), treated.surfaces, day, tuple(lacks), lines)
    uses, maybes = list[Earlier](), list[Maybe]()
    for number, other in earlier_of(document, context.earlier or []):
        path, other_day = f"context.earlier[{number}]", treatment_day(other)
        if other_day and other_day > day:
            continue
        for surface in treated.surfaces:
            found, unknown = _lines_on(document, surface, other, registration)
            uses += [Earlier(other, path, other_day or day, surface, m, p) for m, p in found]
            wanting = tuple(f"{path}.{missing}" for missing in unknown)
            if other_day is None:
                lacks += [*wanting, *([f"{path}.timing.started_at"] if found else [])]
            elif wanting:
                maybes.append(Maybe(other_day, wanting))
    lacks = list(dict.fromkeys(lacks))
    return History(tuple(uses), tuple(dict.fromkeys(maybes)), treated.surfaces, day, tuple(lacks), lines)


def _days(early: date, late: date) -> Exact:
    return Exact(Fraction((late - early).days), "day")


def _lines_on(
    document: TreatmentDocument, place: int, other: TreatmentDocument, registration: str
) -> tuple[list[tuple[int, int]], list[str]]:
    """The lines of an earlier treatment that used a product on a surface, and what is missing to know them."""
    lines, surface = earlier_lines_of(other, registration), (document.surfaces or [])[place]
    elsewhere = site_may_differ(document, other)
    found, lacks = [], [*lines.lacks]
    for mix, product in lines.found:
        treated = treated_by(other, mix)
        same = {
            index: _same(surface, (other.surfaces or [])[index], elsewhere) for index in treated.surfaces
        }
        if True in same.values():
            found.append((mix, product))
        lacks += treated.lacks
        lacks += [
            f"surfaces[{index}].{'id' if (other.surfaces or [])[index].name else 'name'}"
            for index, answer in same.items()
            if answer is None
        ]
    return found, lacks


def _same(one: Surface, other: Surface, elsewhere: bool) -> bool | None:
    """Whether it is the same surface: by id where both have one, else by name, in whatever case and with
    whatever spaces; unknown without, and where the same name stands at what may be another site."""
    if one.id is not None and other.id is not None:
        return one.id == other.id
    if one.name is None or other.name is None:
        return None
    return False if folded(one.name) != folded(other.name) else None if elsewhere else True
