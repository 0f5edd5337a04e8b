"""The quantities that limits judge, as the table of a label's limits defines them.

Readings that belong to the treatment; coverage of each surface; strength and rate of each product; hours that
stay dry after the end; re-entry; the distance of water; and what earlier treatments add.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property, partial

from compliance.facts_reader import per_application
from compliance.facts_reader.derived import stage_of
from compliance.facts_reader.earlier import history_of
from compliance.facts_reader.figures import (
    AGAINST_MIXED,
    against_mixed,
    area_within_slope,
    mixed,
    stock_and_mixed,
    surfaces_and_applied,
    time_and_flow,
)
from compliance.facts_reader.incidents import until_told
from compliance.facts_reader.readings import at_work, so_far
from compliance.facts_reader.site_year import SiteYear, site_year_of
from compliance.facts_reader.unmeasured import of_member
from compliance.facts_reader.worked import worked
from compliance.rulebook.facts import Branch, Items, Leaf, branches, member
from compliance.rulebook.sizes import Exact, Measured, elapsed
from records.document.context import Context
from records.document.types import TreatmentDocument

Found = tuple[Measured, ...]


@dataclass(frozen=True)
class Measures:
    """Measures one subject: a product (`mix` and `product`), a mix, a surface, or the whole treatment."""

    document: TreatmentDocument
    context: Context
    root: Branch
    day: date | None
    mix: int | None = None
    product: int | None = None
    surface: int | None = None

    def __call__(self, name: str, unit: str | None) -> Found:
        """All values of a quantity, computed ones in the unit asked for; none if nothing can be measured."""
        return _MEASURES[name](self, unit or "")

    @cached_property
    def mixed(self) -> Exact | None:
        """All that went into the mix, worked out once."""
        return None if self.mix is None else mixed(self.document, self.mix)

    def reading(self, name: str) -> Found:
        readings = _derived(self.root, "readings")
        if stage_of(self.document) != "finished":
            readings = so_far(self.root, readings)
        readings = at_work(self.root, readings)
        if not readings.items and not readings.lacks:
            return (Measured(None, readings.about, readings.about),)
        unknown = (Measured(None, readings.lacks, readings.lacks),) if readings.lacks else ()
        return (*unknown, *(of_member(item, name) for item in branches(readings)))

    def coverage(self, unit: str) -> Found:
        if self.mix is None:
            return ()
        if self.product is not None:
            return per_application.coverages(self.document, self.mix, self.product, unit)
        return per_application.coverages_of_mix(self.document, self.mix, unit)

    def dilution(self, unit: str) -> Found:
        if self.mix is None or self.product is None:
            return ()
        return (per_application.strength(self.document, self.mix, self.product, unit),)

    def product_rate(self, unit: str) -> Found:
        if self.mix is None or self.product is None:
            return ()
        return per_application.rates(self.document, self.mix, self.product, unit)

    def span(self, start: str, end: str, unit: str) -> Found:
        """From one moment to another; nothing if the second comes first."""
        last, first = _leaf(self.root, end), _leaf(self.root, start)
        late, early = last.value, first.value
        if not isinstance(early, datetime) or not isinstance(late, datetime):
            lacks = last.lacks + first.lacks
            return (Measured(None, lacks, lacks),)
        return (Measured(elapsed(early, late, unit), (end, start)),)

    def buffer(self, *, wells_only: bool = False) -> Found:
        water = _derived(self.root, "water_features")
        if water.lacks:
            return (Measured(None, water.lacks, water.lacks),)
        items = [item for item in water.items if isinstance(item, Branch)]
        return tuple(of_member(item, "distance") for item in items if not wells_only or _is_well(item))

    def earlier(self, name: str, unit: str) -> Found:
        if self.mix is None or self.product is None:
            return ()
        history = history_of(self.document, self.day, self.context, self.mix, self.product)
        if name == "days_between":
            return history.days_between()
        if name == "applications_per_year":
            return history.applications_per_year()
        return history.per_year(self.document, unit)


def _sign_letters(measures: Measures, unit: str) -> Found:
    signs = member(measures.root, "postings")
    if not isinstance(signs, Items) or signs.absent:
        return (Measured(None, ("postings",), ("postings",)),)
    return tuple(of_member(sign, "letters") for sign in branches(signs))


def _in_site_year(measures: Measures, of: Callable[[SiteYear], Measured]) -> Found:
    if measures.mix is None or measures.product is None:
        return ()
    line = ((measures.document.mixes or [])[measures.mix].products or [])[measures.product]
    path = f"mixes[{measures.mix}].products[{measures.product}]"
    return (of(site_year_of(measures.document, measures.context, line, path)),)


def _on_surfaces(measures: Measures, unit: str) -> Found:
    return () if measures.mix is None else surfaces_and_applied(measures.document, measures.mix)


def _at_flow(measures: Measures, unit: str) -> Found:
    return () if measures.mix is None else time_and_flow(measures.document, measures.mix, worked(measures.root))


def _against_mixed(name: str, measures: Measures, unit: str) -> Found:
    if measures.mix is None:
        return ()
    stated = AGAINST_MIXED[name](measures.document, measures.mix)
    return against_mixed(stated, measures.mixed, measures.mix)


def _slope(measures: Measures, unit: str) -> Found:
    return () if measures.surface is None else area_within_slope(measures.document, measures.surface)


def _stock(measures: Measures, unit: str) -> Found:
    if measures.mix is None or measures.product is None:
        return ()
    return stock_and_mixed(measures.document, measures.context, measures.mix, measures.product)


_MEASURES: Mapping[str, Callable[[Measures, str], Found]] = {
    "wind_speed": lambda measures, unit: measures.reading("wind_speed"),
    "gust": lambda measures, unit: measures.reading("gust"),
    "temperature": lambda measures, unit: measures.reading("temperature"),
    "coverage": Measures.coverage,
    "dilution": Measures.dilution,
    "product_rate": Measures.product_rate,
    "hours_dry_after": lambda measures, unit: measures.span(
        "timing.finished_at", "weather.forecast.dry_until", unit
    ),
    "reentry": lambda measures, unit: measures.span("timing.finished_at", "timing.reentry_at", unit),
    "days_between": lambda measures, unit: measures.earlier("days_between", unit),
    "applications_per_year": lambda measures, unit: measures.earlier("applications_per_year", unit),
    "per_year": lambda measures, unit: measures.earlier("per_year", unit),
    "site_per_year": lambda measures, unit: _in_site_year(measures, lambda year: year.applied(unit)),
    "site_applications_per_year": lambda measures, unit: _in_site_year(measures, SiteYear.applications),
    "buffer": lambda measures, unit: measures.buffer(),
    "sign_letters": _sign_letters,
    "incident_told": lambda measures, unit: until_told(measures.root, unit),
    "well_distance": lambda measures, unit: measures.buffer(wells_only=True),
    "area-within-slope": _slope,
    "stock-and-mixed": _stock,
    "surfaces-and-applied": _on_surfaces,
    "time-and-flow": _at_flow,
    **{name: partial(_against_mixed, name) for name in AGAINST_MIXED},
}


def _is_well(item: Branch) -> bool:
    kind = member(item, "kind")
    return isinstance(kind, Leaf) and kind.value == "well"


def _derived(root: Branch, name: str) -> Items:
    treatment = member(root, "treatment")
    found = member(treatment, name) if isinstance(treatment, Branch) else treatment
    return found if isinstance(found, Items) else Items((), ())


def _leaf(root: Branch, path: str) -> Leaf:
    node: object = root
    for name in path.split("."):
        node = member(node, name) if isinstance(node, Branch) else None
    return node if isinstance(node, Leaf) else Leaf(None, (path,), (path,))
