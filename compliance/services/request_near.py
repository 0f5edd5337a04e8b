"""What lies near to what a request asks for: places within a mile, drafts of the same days, and papers that are
missing of the records that fit."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from uuid import UUID

from django.db.models import Count, QuerySet, TextField
from django.db.models.functions import Cast

from compliance.models import RecordsRequest
from compliance.services.live import LIVE
from compliance.services.request_matches import State
from compliance.services.request_met import Met
from records.ground import position_of
from records.holding import holding
from records.lacking import KINDS, lacking, read_for_lacking
from records.models import Notice, SignedFollowUp, SignedRecord, Site, Treatment
from records.register.wanted import RegisterFilter
from records.register_search import treatments_of
from records.selectors import document_of
from shared.geodesy import Grounds

A_MILE = 1609.344
"""Metres; exactly (the international mile of 1959)."""
MOST_PLACES = 50
"""So many places are looked around at most."""
LOOKED_AT = 500
"""Records, the newest of those that fit, of which the papers are looked for."""


@dataclass(frozen=True)
class NearPlace:
    """A place near to one that is asked for, how far from it in metres, and how many records fit but for it."""

    site: Site
    metres: float
    records: int


@dataclass
class Missing:
    """A kind of paper, and the records of which it is missing, the newest first."""

    kind: str
    treatments: list[Treatment] = field(default_factory=list)


def near_places(met: Met) -> list[NearPlace] | None:
    """Where what fits but for its place lies within a mile of one that is asked for, the nearest first. None
    where no site or customer is asked for, or none has a position."""
    request, wanted = met.request, met.wanted
    if not (wanted.site or wanted.customer):
        return None
    around = _within_a_mile(request, _sites_asked_for(request, wanted))
    if not around:
        return None
    all_there = treatments_of(met.firm, replace(wanted, site="", customer=""), drafts=False)
    all_there = all_there.filter(site__in=list(around))
    counts = _by_site(all_there) - _by_site(treatments_of(met.firm, wanted, drafts=False))
    counts -= _by_site(all_there.filter(pk__in=met.no_more)) if met.no_more else Counter()
    sites = Site.objects.for_firm(request.firm).in_bulk(list(counts))
    nearest = sorted(counts, key=lambda pk: (around[pk], str(pk)))
    return [NearPlace(sites[pk], around[pk], counts[pk]) for pk in nearest]


def drafts_of_those_days(met: Met) -> list[UUID] | None:
    """Drafts of a day that is asked for, which do not fit, perhaps since they are not filled in; None where no
    day is asked for."""
    wanted = met.wanted
    if wanted.day_from is None and wanted.day_to is None:
        return None
    days = RegisterFilter(day_from=wanted.day_from, day_to=wanted.day_to, state=State.DRAFT)
    drafts = treatments_of(met.firm, days).values_list("pk", flat=True)
    return [pk for pk in drafts if pk not in met.fitting]


def missing_papers(met: Met) -> list[Missing]:
    """Of the newest records that fit, what nobody can hand over with them."""
    request, newest = met.request, list(met.signed)[:LOOKED_AT]
    follow_ups = _follow_ups(request, newest)
    treatments = [each for each in _with_documents(met, newest) if each.state != State.VOID]
    given = _copies_sent(request, treatments)
    found = {kind: Missing(kind) for kind in KINDS}
    for each in treatments:
        done = follow_ups.get(each.pk, set()) | ({"copy-given"} if each.pk in given else set())
        for kind in lacking(each.document, each.day, done):
            found[kind].treatments.append(each)
    return [each for each in found.values() if each.treatments]


def _by_site(treatments: QuerySet[Treatment]) -> Counter[UUID]:
    return Counter(dict(treatments.order_by().values_list("site").annotate(Count("pk"))))


def _sites_asked_for(request: RecordsRequest, wanted: RegisterFilter) -> set[UUID]:
    """By the names that treatments have of them, and by those that they have now."""
    places = RegisterFilter(site=wanted.site, customer=wanted.customer)
    treated = treatments_of(request.firm, places).order_by().values_list("site", flat=True).distinct()
    sites = holding(Site.objects.for_firm(request.firm).order_by(), wanted.site, ("name", "line1", "city"))
    rows = holding(sites, wanted.customer, ("customer__name",)).values_list("pk", flat=True)
    return {*treated[:MOST_PLACES], *rows[:MOST_PLACES]}


def _within_a_mile(request: RecordsRequest, asked: Iterable[UUID]) -> dict[UUID, float]:
    """The sites, with how many metres each lies from the nearest that is asked for."""
    sites = Site.objects.for_firm(request.firm).exclude(latitude="").exclude(longitude="")
    points = {}
    for pk, latitude, longitude in sites.order_by().values_list("pk", "latitude", "longitude"):
        points[pk] = position_of(latitude, longitude)
    known = [pk for pk, point in points.items() if point is not None]
    grounds = Grounds([points[pk] for pk in known])
    near: dict[UUID, float] = {}
    for pk in [each for each in asked if points.get(each) is not None][:MOST_PLACES]:
        for place, relation in grounds.around(points[pk], A_MILE):
            near[known[place]] = min(relation.distance, near.get(known[place], A_MILE))
    return near


def _follow_ups(request: RecordsRequest, treatments: list[UUID]) -> dict[UUID, set[str]]:
    rows = SignedFollowUp.objects.for_firm(request.firm).filter(follows__treatment__in=treatments)
    found: dict[UUID, set[str]] = {}
    for treatment, kind in rows.order_by().values_list("follows__treatment", "kind"):
        found.setdefault(treatment, set()).add(kind)
    return found


def _copies_sent(request: RecordsRequest, treatments: list[Treatment]) -> set[UUID]:
    """Of which a copy is on its way to the customer, by its subject: number and version."""
    numbers = {each.pk: f": {each.number}, " for each in treatments}
    rows = Notice.objects.for_firm(request.firm).filter(
        treatment__in=list(numbers), to="customer", state__in=LIVE
    )
    sent = rows.order_by().values_list("treatment", "subject")
    return {treatment for treatment, subject in sent if numbers[treatment] in subject}


def _with_documents(met: Met, pks: list[UUID]) -> Iterator[Treatment]:
    """With the document that holds; while a correction is being written the treatment's own is another."""
    correcting = [pk for pk in pks if met.signed[pk].state == State.CORRECTING]
    holding = SignedRecord.objects.for_firm(met.firm).filter(replaced_by=None, treatment__in=correcting)
    signed = {record.treatment_id: record for record in holding.order_by()}
    rows = Treatment.objects.for_firm(met.firm).only("number", "state", "day")
    found = rows.annotate(written=Cast("document", TextField())).in_bulk(pks)
    for pk in pks:
        stated = document_of(signed[pk]) if pk in signed else read_for_lacking(found[pk].written)
        found[pk].document = stated
        yield found[pk]
