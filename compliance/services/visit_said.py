"""What a round of notices says of the visit: offered as it was typed before, or as the plan has it."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from compliance.models import VisitSaid
from compliance.services.telling import Round, Visit

A_DAY = timedelta(days=1)


def offered(these: Round) -> Visit:
    """What was typed before and still fits the plan; where a rule wants other days named, the ones that follow
    fill up what is missing."""
    if these.treatment.is_off or these.plan.start is None:
        return Visit()
    kept = _kept(these)
    start, zone = these.planned_at, ZoneInfo(these.zone)
    until = kept and kept.until and datetime.combine(start.date(), kept.until, zone)
    named = [date.fromisoformat(day) for day in _typed_days(kept)]
    return Visit(
        until if until and until > start else None,
        _days(start.date(), named, these.dates_needed, these.dates_possible),
        kept.filled if kept else {},
    )


def keep(these: Round, visit: Visit) -> None:
    """The next round begins with it. Days that were offered and left as they are were typed by nobody: after a
    move, others are offered."""
    if these.treatment.is_off:
        return
    days = [day.isoformat() for day in visit.alternates]
    as_offered = {*visit.alternates} == {*offered(these).alternates}
    VisitSaid.objects.for_firm(these.treatment.firm).update_or_create(
        treatment=these.treatment,
        defaults={
            "firm": these.treatment.firm,
            "until": visit.until and visit.until.astimezone(ZoneInfo(these.zone)).time(),
            "alternate_dates": _typed_days(_kept(these)) if as_offered else days,
            "filled": dict(visit.filled),
        },
    )


def keep_looked_at(these: Round, visit: Visit) -> None:
    """The next round begins with it, but nothing that people were told becomes another by a look."""
    if any(one.live for one in these.people):
        before = offered(these)
        visit = replace(visit, until=before.until or visit.until, filled={**visit.filled, **before.filled})
    keep(these, visit)


def _kept(these: Round) -> VisitSaid | None:
    return VisitSaid.objects.for_firm(these.treatment.firm).filter(treatment=these.treatment).first()


def _typed_days(kept: VisitSaid | None) -> list[str]:
    return kept.alternate_dates if kept else []


def _days(planned: date, named: Iterable[date], needed: int, possible: int) -> tuple[date, ...]:
    """Those of the named ones that come after the planned day, and as many that follow it as are missing."""
    days = sorted({day for day in named if day > planned})[: max(needed, possible)]
    following = planned
    while len(days) < needed:
        following += A_DAY
        if following not in days:
            days.append(following)
    return tuple(sorted(days))
