"""What a request for records meets: the records that match, what is near, and what is wrong with them."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from uuid import UUID

from django.db.models import Count, Exists, OuterRef, QuerySet

from compliance.models import RecordsRequest
from compliance.services.request_before import fitted_before
from records.models import Firm, LegalHold, SignedRecord, Treatment, TreatmentTerm
from records.register import terms
from records.register.wanted import RegisterFilter, filter_of
from records.register_search import treatments_of

AROUND = timedelta(days=7)
MOST_RULES = 20
State = Treatment.State


@dataclass(frozen=True)
class OpenRule:
    """A rule that the last check of so many records found not met, or could not tell."""

    rule: str
    kind: str
    records: int


def wanted_by(request: RecordsRequest) -> RegisterFilter:
    """What is asked for, as it was kept. Raises ValueError for what was never kept."""
    return filter_of(request.wanted)


def signed_matches(request: RecordsRequest) -> QuerySet[Treatment]:
    """The treatments with something signed that the request asks for, as they stand now or as they stood when
    it came in: what was corrected later is still asked for."""
    wanted = wanted_by(request)
    signed = SignedRecord.objects.for_firm(request.firm).filter(treatment=OuterRef("pk"))
    found = treatments_of(request.firm, wanted).filter(Exists(signed))
    before = fitted_before(request, wanted)
    if not before:
        return found
    rows = Treatment.objects.for_firm(request.firm).order_by()
    either = found.order_by().values("pk").union(rows.filter(pk__in=before).values("pk"))
    return treatments_of(request.firm).filter(pk__in=either)


def asked_for(firm: Firm) -> Iterator[QuerySet[Treatment]]:
    """What each request that is open asks for: until it is closed nothing of it is to be lost."""
    for request in RecordsRequest.objects.for_firm(firm).filter(closed_at=None).select_related("firm"):
        yield signed_matches(request).order_by()


def fits_no_more(request: RecordsRequest) -> set[UUID]:
    """Of those the ones that fit as they stood when the request came in, or later, and now do not."""
    return set(fitted_before(request, wanted_by(request)))


def unsigned_matches(request: RecordsRequest) -> QuerySet[Treatment]:
    """What fits and is not signed: it is in no bundle, and somebody may ask why."""
    return treatments_of(request.firm, wanted_by(request)).filter(state__in=(State.DRAFT, State.BROUGHT_IN))


def around_matches(request: RecordsRequest) -> QuerySet[Treatment] | None:
    """What fits but for its day, which lies up to a week outside; None where no day is asked for."""
    wanted = wanted_by(request)
    if wanted.day_from is None and wanted.day_to is None:
        return None
    wider = replace(
        wanted,
        day_from=wanted.day_from and wanted.day_from - AROUND,
        day_to=wanted.day_to and wanted.day_to + AROUND,
    )
    found = treatments_of(request.firm, wider).exclude(state=State.DRAFT)
    found = found.exclude(pk__in=treatments_of(request.firm, wanted).values("pk"))
    return found.exclude(pk__in=fitted_before(request, wanted))


def void_matches(request: RecordsRequest) -> QuerySet[Treatment]:
    return signed_matches(request).filter(state=State.VOID)


def held_matches(request: RecordsRequest) -> QuerySet[Treatment]:
    """Those that a legal hold keeps from being erased."""
    holds = LegalHold.objects.for_firm(request.firm).filter(treatment=OuterRef("pk"), lifted=None)
    return signed_matches(request).filter(Exists(holds))


def correcting_matches(request: RecordsRequest) -> QuerySet[Treatment]:
    """Those of which a correction is being written: what is handed over now is what it corrects."""
    return signed_matches(request).filter(state=State.CORRECTING)


def open_rules_of(request: RecordsRequest) -> Iterator[OpenRule]:
    """The rules that are not met or can't be told, those of the most records first."""
    links = TreatmentTerm.objects.for_firm(request.firm).filter(
        term__kind__in=(terms.NOT_MET, terms.CANT_TELL), treatment__in=signed_matches(request).values("pk")
    )
    counted = links.values("term__written", "term__kind").annotate(records=Count("pk"))
    for each in counted.order_by("-records", "term__written")[:MOST_RULES]:
        yield OpenRule(each["term__written"], each["term__kind"], each["records"])
