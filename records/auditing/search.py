"""Find entries of who did what: what is asked for, and in which order they come."""

import json
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.db.models import Q, QuerySet, TextField
from django.db.models.functions import Cast

from records.models import AuditEntry, Firm

A_DAY = timedelta(days=1)


@dataclass(frozen=True, kw_only=True)
class AuditFilter:
    """What is asked for; what is empty lets everything through. Both days count, by the firm's clock.

    `about` is a part of a thing's name, or its id; `words` stand in old or new values, the reason or the page.
    """

    day_from: date | None = None
    day_to: date | None = None
    person: str = ""
    kind: str = ""
    thing: str = ""
    about: str = ""
    words: str = ""


def entries_of(firm: Firm, wanted: AuditFilter) -> QuerySet[AuditEntry]:
    """The firm's entries that the filter lets through, the newest first."""
    zone = ZoneInfo(firm.time_zone)
    conditions = {
        "at__gte": wanted.day_from and _midnight(wanted.day_from, zone),
        "at__lt": wanted.day_to and _midnight(wanted.day_to + A_DAY, zone),
        "by_name__icontains": wanted.person,
        "kind": wanted.kind,
        "thing": wanted.thing,
    }
    given = {name: value for name, value in conditions.items() if value}
    entries = AuditEntry.objects.for_firm(firm).filter(**given)
    if wanted.about:
        entries = entries.filter(Q(thing_name__icontains=wanted.about) | Q(thing_id=wanted.about))
    if wanted.words:
        entries = entries.alias(values_as_text=Cast("changes", TextField())).filter(_holds(wanted.words))
    return entries.order_by("-at", "-pk")


def page_after(entries: QuerySet[AuditEntry], last: AuditEntry | None) -> QuerySet[AuditEntry]:
    """What comes after `last`, so that pages cost the same however deep they are."""
    if last is None:
        return entries
    return entries.filter(Q(at__lt=last.at) | Q(at=last.at, pk__lt=last.pk))


def _midnight(day: date, zone: ZoneInfo) -> datetime:
    return datetime.combine(day, time.min, zone)


def _holds(words: str) -> Q:
    in_json = json.dumps(words, ensure_ascii=False)[1:-1]
    said = Q(reason__icontains=words) | Q(page__icontains=words)
    return said | Q(values_as_text__icontains=in_json)
