"""Which periodic reports a firm owes: of each rule, month or year and county, with what was filed."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Exists, OuterRef, Q

from compliance.models import FiledReport
from compliance.pack_reader import registered_packs
from compliance.reports.content import ReportDuty
from compliance.reports.periods import Period, period_of
from compliance.rulebook.kinds.report import Report
from compliance.rulebook.places import widened
from compliance.selectors import packs_for, today_of
from compliance.services.determinations import determinations_on
from compliance.services.reports import Wanted, signed_in
from records.models import Firm, RegisterTerm, Site, TreatmentTerm
from records.models.treatments import SIGNED_STATES
from records.register.terms import COUNTY, PLACE
from shared.folded import sought

LOOKED_BACK = timedelta(days=366 * 2)
"""A report that is older is no longer asked after."""


@dataclass(frozen=True)
class ReportDue:
    """One report whose period is over, or is running. `filed` is the newest version that went out."""

    wanted: Wanted
    duty: ReportDuty
    due: date
    running: bool
    filed: FiledReport | None

    @property
    def is_owed(self) -> bool:
        return not self.running and self.filed is None


def duties_of(firm: Firm) -> list[ReportDuty]:
    """The rules that ask for a report where the firm works, as they stand today."""
    today = today_of(firm)
    found = [
        (pack, rule, rule.duty_on(today)) for pack in packs_for(firm, today).in_force for rule in pack.rules
    ]
    return [
        ReportDuty(pack, rule, duty.kind)
        for pack, rule, duty in found
        if duty is not None and isinstance(duty.kind, Report)
    ]


def duty_of(rule: str) -> ReportDuty | None:
    """The duty of this id, wherever it is in force."""
    for pack in registered_packs():
        for each in pack.rules:
            if each.id == rule and isinstance(each.all_duties[-1].kind, Report):
                return ReportDuty(pack, each, each.all_duties[-1].kind)
    return None


def reports_due(firm: Firm) -> list[ReportDue]:
    """All of the last two years, by the day on which they are due. A period in which nothing was done is not
    reported, unless the rule wants that said."""
    today = today_of(firm)
    filed = newest_filed(firm)
    found = [each for duty in duties_of(firm) for each in _of_duty(firm, duty, today, filed)]
    return sorted(found, key=lambda each: (each.due, each.duty.key, each.wanted.county))


def _of_duty(
    firm: Firm, duty: ReportDuty, today: date, filed: dict[tuple[str, str, str], FiledReport]
) -> Iterator[ReportDue]:
    days = _days_in(firm, duty.pack.place)
    now = period_of(today, monthly=duty.kind.monthly)
    first = max(days.first, today - LOOKED_BACK) if days.first else now.before.last
    counties = _counties(firm, duty.pack.place, days) if duty.form.per_county else [""]
    period = now
    while period.last >= first:
        running = period == now
        owed = duty.kind.nil or days.any_in(period, duty.form.uses)
        if owed and not _answered_away(firm, duty, period.last):
            for county in counties:
                wanted = Wanted(duty, period, county)
                before = filed.get((wanted.rule, str(period), sought(county)))
                yield ReportDue(wanted, duty, duty.kind.due_after(period.last), running, before)
        period = period.before


def _answered_away(firm: Firm, duty: ReportDuty, day: date) -> bool:
    """Whether the firm has answered a question so that no report is owed."""
    if duty.kind.unless is None:
        return False
    question, answer = duty.kind.unless
    given = (each["answer"] for each in determinations_on(firm, day) if each["question"] == question)
    return next(given, None) == answer


@dataclass(frozen=True)
class _Days:
    """When a firm worked at a place."""

    firm: Firm
    terms: tuple[int, ...]
    first: date | None

    def any_in(self, period: Period, uses: tuple[str, ...]) -> bool:
        """Whether something was done there, at a site that is, or by its record was, used for one of these."""
        links = TreatmentTerm.objects.for_firm(self.firm).filter(term__in=self.terms)
        found = links.filter(day__range=(period.first, period.last))
        signed = signed_in(self.firm, period).exclude(result="stood-down")
        used = Q(site__use__in=uses) | Q(document__site__use__in=uses)
        return found.filter(treatment__in=signed.filter(used) if uses else signed).exists()


def _days_in(firm: Firm, place: str) -> _Days:
    terms = RegisterTerm.objects.for_firm(firm).filter(kind=PLACE, folded__startswith=place)
    ids = tuple(each.pk for each in terms if place in widened((each.folded,)))
    links = TreatmentTerm.objects.for_firm(firm).filter(term__in=ids, treatment__state__in=SIGNED_STATES)
    return _Days(firm, ids, links.order_by("day").values_list("day", flat=True).first())


def _counties(firm: Firm, place: str, days: _Days) -> list[str]:
    """The counties of the firm's sites at a place and of its work there, each once however it is spelled."""
    rows = Site.objects.for_firm(firm).order_by().values_list("county", "jurisdictions").distinct()
    named = [county for county, places in rows if place in widened(places or ())]
    links = TreatmentTerm.objects.for_firm(firm).filter(
        term=OuterRef("pk"), treatment__found_by__term__in=days.terms
    )
    worked = RegisterTerm.objects.for_firm(firm).filter(Exists(links), kind=COUNTY)
    named += worked.values_list("written", flat=True)
    return sorted({sought(county): county for county in reversed(named) if county.strip()}.values())


def newest_filed(firm: Firm) -> dict[tuple[str, str, str], FiledReport]:
    """The newest version of each report, by its rule, period and county."""
    rows = FiledReport.objects.for_firm(firm).defer("content").select_related("firm").order_by("version")
    return {(each.rule, each.period, sought(each.county)): each for each in rows}
