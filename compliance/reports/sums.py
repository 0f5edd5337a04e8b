"""The tables of a report: each figure with the records that it is the sum of. Exact. Pure."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import chain
from typing import Any

from compliance.reports.masses import Told, Untold, ingredient_in, told
from compliance.reports.uses import Area, Source, Use
from compliance.reports.wordings import WORDINGS
from compliance.rulebook.report_form import ReportForm
from records.document.computed import Amount
from records.document.registration import registration_key
from shared.quantities import UNITS, QuantityError, from_fraction

Json = dict[str, Any]
CELLS = {
    "product": ("registration", "product"),
    "site": ("use", "surfaces"),
    "county": ("county",),
    "day": ("day",),
    "address": ("address",),
    "place": ("place",),
    "started": ("started",),
    "ingredient": ("ingredient",),
    "surface": ("surface",),
}
"""The columns that each thing a line stands for fills."""
ASKED, PRODUCT, INGREDIENT, SITE, COUNTY, AREA = "asked", "product", "ingredient", "site", "county", "area"
BESIDES = {PRODUCT: ("product",), SITE: ("site", "product"), COUNTY: ("county", "product")}
"""The tables beside the one that is asked for."""


@dataclass
class Line:
    """One figure and what it is made of; `exact` None where an amount can't be told."""

    cells: tuple[str, ...]
    unit: str
    parts: list[tuple[int, Fraction | None]] = field(default_factory=list)

    def as_json(self) -> Json:
        known = [exact for _source, exact in self.parts if exact is not None]
        total = sum(known, Fraction(0))
        return {
            "cells": list(self.cells),
            "unit": self.unit,
            "exact": str(total) if known else None,
            "amount": written(total, self.unit) if known else None,
            "applications": len({source for source, _exact in self.parts}),
            "parts": [[source, None if exact is None else str(exact)] for source, exact in self.parts],
        }


class Table:
    """Lines by what they stand for and their unit. What is the same product is told by its number."""

    def __init__(self, name: str, by: Sequence[str]) -> None:
        self.name, self.by = name, tuple(by)
        self._lines: dict[tuple[Any, ...], Line] = {}

    def add(self, key: tuple[str, ...], cells: tuple[str, ...], unit: str, source: int, exact: Any) -> None:
        line = self._lines.setdefault((*key, unit), Line(cells, unit))
        line.parts.append((source, exact))

    def as_json(self) -> Json:
        lines = sorted(self._lines.items(), key=lambda each: (each[0][:-1], not each[0][-1], each[0][-1]))
        columns = [cell for each in self.by for cell in CELLS[each]]
        return {"name": self.name, "columns": columns, "lines": [line.as_json() for _key, line in lines]}


class Sums:
    """Adds up what documents say, one after another, and holds no document."""

    def __init__(self, form: ReportForm) -> None:
        self.form = form
        self.asked = Table(ASKED, form.by)
        besides = {name: by for name, by in BESIDES.items() if by != form.by}
        if form.per_county:
            del besides[COUNTY]
        self.besides = [Table(name, by) for name, by in besides.items()]
        self.ingredients, self.areas = Table(INGREDIENT, ("ingredient",)), Table(AREA, ("county", "surface"))
        self._by = {each for table in (self.asked, *self.besides) for each in table.by}
        self._sources: dict[Source, int] = {}
        self._open: dict[tuple[int, str, str], Json] = {}

    def add(self, uses: Iterable[Use], areas: Iterable[Area]) -> None:
        """What one document says. A line that is no such product, or at no such site, is none of the report."""
        counted = [use for use in uses if _counts(use, self.form)]
        for use in counted:
            self._add_use(use)
        if counted:
            self._add_areas(counted[0].source, list(areas))

    def leave_out(self, source: Source, wording_id: str) -> None:
        """A record that may belong to the report and is not counted, with why."""
        self._open_at(self._at(source), "", Untold(WORDINGS[wording_id]))

    def as_json(self) -> Json:
        tables = [self.asked, *self.besides, self.ingredients, self.areas]
        asked = {source for line in self.asked._lines.values() for source, _exact in line.parts}
        return {
            "tables": [table.as_json() for table in tables],
            "records": [_source_as_json(source) for source in self._sources],
            "applications": len(asked),
            "open": list(self._open.values()),
        }

    def _add_use(self, use: Use) -> None:
        at, product = self._at(use.source), use.product
        amount = told(use.applied, product, self.form)
        exact, unit = (amount.exact, amount.unit) if isinstance(amount, Told) else (None, "")
        if isinstance(amount, Untold):
            self._open_at(at, product.name, amount)
        said = {each: (_key(use, each), _cells(use, each)) for each in self._by}
        for table in (self.asked, *self.besides):
            keys, cells = zip(*(said[each] for each in table.by), strict=True)
            table.add(tuple(chain(*keys)), tuple(chain(*cells)), unit, at, exact)
        for wording_id in _lacks(use):
            self._open_at(at, product.name, Untold(WORDINGS[wording_id]))
        self._add_ingredients(use, at)

    def _add_ingredients(self, use: Use, at: int) -> None:
        unit = "lb" if "lb" in self.form.units else "kg"
        if not use.product.active_ingredients and use.product.kind != "adjuvant":
            self._open_at(at, use.product.name, Untold(WORDINGS["no_ingredient"]))
        for each in use.product.active_ingredients or []:
            name = " ".join((each.name or "").split())
            mass = ingredient_in(use.applied, use.product, each)
            if isinstance(mass, Untold):
                if isinstance(use.applied, Amount):
                    self._open_at(at, f"{use.product.name or ''}: {name}", mass)
                self.ingredients.add((name.casefold(),), (name,), "", at, None)
            else:
                self.ingredients.add((name.casefold(),), (name,), unit, at, mass / UNITS[unit].factor)

    def _add_areas(self, source: Source, areas: list[Area]) -> None:
        at, unit = self._at(source), "ft**2" if "lb" in self.form.units else "m**2"
        if not areas:
            self._open_at(at, "", Untold(WORDINGS["no_surface"]))
        for each in areas:
            cells = (each.county, each.kind)
            if each.square_metres is None:
                self._open_at(at, each.name, Untold(WORDINGS["no_area"]))
                self.areas.add(cells, cells, "", at, None)
            else:
                self.areas.add(cells, cells, unit, at, each.square_metres / UNITS[unit].factor)

    def _at(self, source: Source) -> int:
        return self._sources.setdefault(source, len(self._sources))

    def _open_at(self, at: int, about: str | None, untold: Untold) -> None:
        says = {"en": untold.says.en, "es": untold.says.es}
        self._open.setdefault((at, about or "", says["en"]), {"record": at, "about": about or "", "says": says})


def written(exact: Fraction, unit: str) -> str:
    """The figure as it is shown, at six digits; a whole number where it is too large for that."""
    try:
        return from_fraction(exact, unit).value
    except QuantityError:
        return str(round(exact))


def _counts(use: Use, form: ReportForm) -> bool:
    kind = use.product.kind
    return (kind is None or kind in form.kinds) and (not form.uses or use.site_use in form.uses)


def _lacks(use: Use) -> Iterator[str]:
    if (product := use.product).kind is None:
        yield "no_kind"
    if not (product.registration_number or product.kind == "adjuvant" or product.regime == "exempt"):
        yield "no_registration"
    if not use.county:
        yield "no_county"


def _cells(use: Use, by: str) -> tuple[str, ...]:
    match by:
        case "product":
            return (use.product.registration_number or "", use.product.name or "")
        case "site":
            return (use.site_use, ",".join(use.surfaces))
        case "day":
            return (use.day.isoformat() if use.day else "",)
        case _:
            return (getattr(use, by),)


def _key(use: Use, by: str) -> tuple[str, ...]:
    """What tells one line from another: a product by its number, else by its name, however spelled."""
    cells = _cells(use, by)
    number, name = (" ".join(each.casefold().split()) for each in cells) if by == "product" else ("", "")
    return (registration_key(number) or number, "" if number else name) if by == "product" else cells


def _source_as_json(source: Source) -> Json:
    return {"id": source.id, "number": source.number, "version": source.version, "digest": source.digest}
