"""Sums of what a search of the register has found, for pictures and the tables beside them."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from django.db.models import Count, QuerySet, Sum

from records.models import Firm, Site, Treatment, TreatmentProduct, TreatmentTerm
from records.models.treatments import SIGNED_STATES
from records.register.steps import start_of, starts, step_for
from records.register.terms import NOT_MET
from shared.quantities import UNITS

NOT_DONE = (Treatment.State.DRAFT, Treatment.State.VOID)
MOST_PRODUCTS, MOST_RULES, MOST_SITES = 6, 15, 100


@dataclass(frozen=True)
class Found:
    """One treatment that was found, as far as pictures tell of it."""

    day: date
    site: object
    wind: Decimal | None
    limit: Decimal | None


@dataclass(frozen=True)
class Wind:
    """The strongest wind of a time, in m/s, the limit that was in force then, and how many were over theirs."""

    start: date
    wind: Fraction | None
    limit: Fraction | None
    over: int


@dataclass(frozen=True)
class Use:
    """A product applied in each month, in its unit."""

    name: str
    unit: str
    by_month: Sequence[Fraction]

    @property
    def total(self) -> Fraction:
        return sum(self.by_month, Fraction(0))


def found_rows(treatments: QuerySet[Treatment], most: int) -> list[Found] | None:
    """The treatments that took place, so far as somebody stands for it: neither drafts nor what is void. None
    for more than `most`."""
    stand = treatments.exclude(state__in=NOT_DONE).order_by()
    rows = list(stand.values_list("day", "site", "strongest_wind", "wind_limit")[: most + 1])
    return [Found(*row) for row in rows] if len(rows) <= most else None


def by_step(rows: Sequence[Found]) -> list[tuple[date, int]]:
    """How many in each week, or month where there are very many weeks."""
    days = [row.day for row in rows]
    step = step_for(days)
    counts = Counter(start_of(day, step) for day in days)
    return [(start, counts[start]) for start in starts(days, step)]


def winds(rows: Sequence[Found]) -> list[Wind]:
    days = [row.day for row in rows]
    step = step_for(days)
    together: dict[date, list[Found]] = defaultdict(list)
    for row in rows:
        together[start_of(row.day, step)].append(row)
    return [_wind(start, together[start]) for start in starts(days, step)]


def used(firm: Firm, treatments: QuerySet[Treatment], units: tuple[str, str]) -> tuple[list[date], list[Use]]:
    """Of signed records: the months, and what was applied of each product, that of which most was first.
    `units`: of volumes and of masses."""
    lines = TreatmentProduct.objects.for_firm(firm).filter(
        treatment__in=treatments.filter(state__in=SIGNED_STATES).order_by().values("pk")
    )
    sums = lines.values_list("name", "registration_number", "treatment__day").annotate(
        Sum("applied_volume"), Sum("applied_mass")
    )
    found = [row for row in sums.order_by() if row[3] or row[4]]
    months = starts([row[2] for row in found], "month")
    amounts: dict[tuple[str, str], dict[date, Fraction]] = defaultdict(lambda: defaultdict(Fraction))
    for name, number, day, volume, mass in found:
        said = f"{name} ({number})" if number else name
        for unit, base in zip(units, (volume, mass), strict=True):
            if base:
                amounts[said, unit][start_of(day, "month")] += Fraction(base) / UNITS[unit].factor
    uses = [Use(*which, [of[month] for month in months]) for which, of in amounts.items()]
    return months, sorted(uses, key=lambda use: (-use.total, use.name))


def rules_open(firm: Firm, treatments: QuerySet[Treatment]) -> list[tuple[str, int]]:
    """The rules that were not met, by their ids, with of how many treatments; the most first."""
    links = TreatmentTerm.objects.for_firm(firm).filter(
        term__kind=NOT_MET, treatment__in=treatments.order_by().values("pk")
    )
    counts = links.values_list("term__written").annotate(n=Count("pk"))
    return list(counts.order_by("-n", "term__written"))


def sites_on_map(firm: Firm, rows: Iterable[Found]) -> tuple[list[tuple[Site, int]], int]:
    """Sites with a position and how many treatments each, the most first; how many sites have none."""
    counts = Counter(row.site for row in rows)
    sites = {site.pk: site for site in Site.objects.for_firm(firm).filter(pk__in=[*counts][:5000])}
    known = [(sites[pk], n) for pk, n in counts.most_common() if pk in sites]
    placed = [(site, n) for site, n in known if site.latitude and site.longitude]
    return placed[:MOST_SITES], len(counts) - len(placed)


def _wind(start: date, rows: Sequence[Found]) -> Wind:
    """The limit is that of the strongest wind; where it had none, the strictest of those that were passed;
    where no wind was read, the strictest one."""
    read = [row for row in rows if row.wind is not None]
    strongest = max(read, key=lambda row: (row.wind, -(row.limit or 0)), default=None)
    over = [row.limit for row in read if row.limit is not None and row.wind > row.limit]
    limits = over if strongest else [row.limit for row in rows if row.limit is not None]
    limit = strongest.limit if strongest and strongest.limit is not None else min(limits, default=None)
    return Wind(
        start,
        Fraction(strongest.wind) if strongest else None,
        None if limit is None else Fraction(limit),
        len(over),
    )
