"""Pictures of what a search of the register finds, each with a table of the same numbers."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _

from records.pages.register import RegisterPage, grouped
from records.pages.seen import note_seen
from records.register.drawing import Map, Picture, bars, placed, points, rows
from records.register.steps import step_for
from records.register_columns import METRIC, units_of
from records.register_search import COUNTED
from records.register_sums import (
    MOST_PRODUCTS,
    MOST_RULES,
    Found,
    by_step,
    found_rows,
    rules_open,
    sites_on_map,
    used,
    winds,
)
from shared.quantities import UNITS


@dataclass(frozen=True)
class Shown:
    """A picture with what it is of, and the table beside it: the names of its columns and its rows."""

    key: str
    title: str
    picture: Picture | Map | None
    names: Sequence[str]
    rows: Sequence[Sequence[str]]
    note: str = ""
    template: str = "records/pictures/bars.html"
    more: list[tuple[str, Picture]] = field(default_factory=list)


class Pictures(RegisterPage):
    template_name = "records/register_pictures.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        found = found_rows(self.found, COUNTED)
        shown = list(self._shown(found)) if found else []
        said = {"query": self.query(), "few": grouped(COUNTED), "unread": self.search.form.errors}
        return self.page(shown=shown, too_many=found is None, **said)

    def titles(self, rules: list[str]) -> dict[str, str]:
        """What each rule is called; here only its id is known."""
        return {rule: rule for rule in rules}

    def _shown(self, found: Sequence[Found]) -> Iterator[Shown]:
        sees = self.may("records.view_draft")
        yield self._by_week(found)
        yield self._use()
        if sees:
            yield self._findings()
        yield self._wind(found, sees)
        yield self._map(found)

    def _by_week(self, found: Sequence[Found]) -> Shown:
        counts = by_step(found)
        begins, said = _starts(found)
        names = [said(start) for start, _n in counts]
        table = [(name, grouped(n)) for name, (_start, n) in zip(names, counts, strict=True)]
        picture = bars([n for _start, n in counts], names)
        title = _("Treatments by week") if _weekly(found) else _("Treatments by month")
        return Shown("weeks", title, picture, (begins, _("Treatments")), table)

    def _use(self) -> Shown:
        units = units_of(self.firm)
        months, uses = used(self.firm, self.found, (units.volume, units.mass))
        labels = [_month(month) for month in months]
        names = [_("Product"), _("Unit"), _("Together"), *labels]
        table = [
            (use.name, self._unit(use.unit), _said(use.total), *map(_said, use.by_month)) for use in uses
        ]
        more = [
            (f"{use.name}, {self._unit(use.unit)}", bars(use.by_month, labels)) for use in uses[:MOST_PRODUCTS]
        ]
        note = _("Product applied, of signed records alone.")
        return Shown("use", _("Product use by month"), None, names, table, note, more=more)

    def _findings(self) -> Shown:
        found = rules_open(self.firm, self.found)
        titles = self.titles([rule for rule, _n in found])
        table = [(str(number), titles[rule], grouped(n)) for number, (rule, n) in enumerate(found, 1)]
        picture = rows([n for _rule, n in found[:MOST_RULES]]) if found else None
        names = (_("No."), _("Rule"), _("Treatments"))
        return Shown("findings", _("Rules that were not met"), picture, names, table)

    def _wind(self, found: Sequence[Found], sees: bool) -> Shown:
        speed = units_of(self.firm).speed
        factor = UNITS[speed].factor
        known = [each for each in winds(found) if each.wind is not None or each.limit is not None]
        read = [None if each.wind is None else each.wind / factor for each in known]
        limits = [each.limit / factor if each.limit is not None and sees else None for each in known]
        begins, said = _starts(found)
        days = [said(each.start) for each in known]
        unit = self._unit(speed)
        names = [begins, _("Strongest wind (%(unit)s)") % {"unit": unit}]
        table: list[Sequence[str]] = [(day, _said(wind)) for day, wind in zip(days, read, strict=True)]
        if sees:
            names += [_("Limit (%(unit)s)") % {"unit": unit}, _("Treatments over it")]
            table = [
                (*row, _said(limit), grouped(each.over))
                for row, limit, each in zip(table, limits, known, strict=True)
            ]
        picture = points(read, limits, days) if known else None
        title = _("Wind against the limit") if sees else _("Strongest wind")
        return Shown("wind", title, picture, names, table, template="records/pictures/points.html")

    def _map(self, found: Sequence[Found]) -> Shown:
        sites, without = sites_on_map(self.firm, found)
        places = [(float(site.latitude), float(site.longitude), n) for site, n in sites]
        table = [(str(number), site.name, grouped(n)) for number, (site, n) in enumerate(sites, 1)]
        names = (_("No."), _("Site"), _("Treatments"))
        note = _("Sites that have no position or no room: %(n)s.") % {"n": without} if without else ""
        picture = placed(places, metric=units_of(self.firm) == METRIC) if places else None
        return Shown("map", _("Where it was"), picture, names, table, note, "records/pictures/map.html")

    def _unit(self, unit: str) -> str:
        return UNITS[unit].label(self.language)


def _weekly(found: Sequence[Found]) -> bool:
    return step_for([each.day for each in found]) == "week"


def _starts(found: Sequence[Found]) -> tuple[str, Callable[[date], str]]:
    """What stands over the steps of time, and how the first day of one is said."""
    return (_("From"), _day) if _weekly(found) else (_("Month"), _month)


def _month(day: date) -> str:
    return date_format(day, "M Y")


def _day(day: date) -> str:
    return date_format(day, "SHORT_DATE_FORMAT")


def _said(amount: Fraction | None) -> str:
    """To three significant digits, for display alone."""
    if amount is None:
        return "–"
    rounded = Decimal(f"{float(amount):.3g}") + 0
    return number_format(f"{rounded:f}", use_l10n=True)
