"""Which filed reports are wrong by now: the records give other figures than were sent."""

from typing import Any, NamedTuple

from django.core.cache import cache
from django.db.models import Count, Max, Q, QuerySet

from compliance.models import FiledReport
from compliance.reports.content import figures_of
from compliance.reports.periods import read_period
from compliance.selectors import today_of
from compliance.services.reports import Wanted, make_report
from compliance.services.reports_due import LOOKED_BACK, duty_of, newest_filed
from records.models import Firm, SignedRecord

KEPT_FOR = 30 * 24 * 60 * 60
"""Seconds for which what was compared is kept; what is signed in its time has it compared anew."""


class _Changes(NamedTuple):
    """What was signed since a report was kept that may move its figures; nothing for no `count`."""

    count: int
    last: Any


def wanted_of(filed: FiledReport) -> Wanted:
    return Wanted(duty_of(filed.rule), read_period(filed.period), filed.county)


def says_otherwise(filed: FiledReport, wanted: Wanted) -> bool:
    """Whether the records give other figures by now; a rule that is gone asks for none."""
    if wanted.duty is None:
        return False
    return figures_of(make_report(filed.firm, wanted)) != figures_of(filed.content)


def wrong_by_now(firm: Firm) -> list[FiledReport]:
    """The newest version of each report of the last two years that has to be amended, the oldest first."""
    first = today_of(firm) - LOOKED_BACK
    found = [each for each in newest_filed(firm).values() if read_period(each.period).last >= first]
    return sorted((each for each in found if is_wrong(each)), key=lambda each: (each.period, each.county))


def is_wrong(filed: FiledReport) -> bool:
    """Whether it says other than the records. They are summed up only where something of them was signed since,
    and once for all that was."""
    wanted, changes = wanted_of(filed), _changes(filed)
    if wanted.duty is None or not changes.count:
        return False
    seen = (filed.pk, changes.count, changes.last.isoformat(), wanted.duty.pack.digest)
    key = "filed-report-is-wrong:" + ":".join(map(str, seen))
    known = cache.get(key)
    if known is None:
        known = says_otherwise(filed, wanted)
        cache.set(key, known, KEPT_FOR)
    return bool(known)


def _changes(filed: FiledReport) -> _Changes:
    """Versions of treatments that are in its time now, or that it counted before they were moved out of it."""
    period = read_period(filed.period)
    since = SignedRecord.objects.for_firm(filed.firm).filter(received_at__gt=filed.at)
    within = Q(treatment__day__range=(period.first, period.last))
    corrections = since.exclude(within).exclude(replaces=None).values_list("treatment_id", flat=True)
    if elsewhere := {str(treatment) for treatment in corrections.distinct()}:
        counted = {each["id"] for each in filed.content["records"]}
        within |= Q(treatment__in=elsewhere & counted)
    return _Changes(**_told(since.filter(within)))


def _told(records: QuerySet[SignedRecord]) -> dict[str, Any]:
    return records.aggregate(count=Count("pk"), last=Max("received_at"))
