"""What a request for records meets, as questions to the database."""

from collections.abc import Iterator
from typing import Any
from uuid import UUID

from django.db.models import QuerySet

from compliance.models import RecordsRequest
from compliance.services.request_before import fitted_before
from records.models import Firm, Treatment
from records.models.treatments import NEVER_SIGNED
from records.register.wanted import RegisterFilter, filter_of
from records.register_search import treatments_of

State = Treatment.State


def wanted_by(request: RecordsRequest) -> RegisterFilter:
    """What is asked for, as it was kept. Raises ValueError for what was never kept."""
    return filter_of(request.wanted)


def signed_matches(request: RecordsRequest) -> QuerySet[Treatment]:
    """The treatments with something signed that the request asks for, as they stand now or as they stood when
    it came in: what was corrected later is still asked for."""
    wanted = wanted_by(request)
    if fitted_before(request, wanted):
        return treatments_of(request.firm).filter(pk__in=ids_of_matches(request))
    return treatments_of(request.firm, wanted).exclude(state__in=NEVER_SIGNED)


def ids_of_matches(request: RecordsRequest) -> QuerySet[Any]:
    """The same by their ids, in no order."""
    wanted = wanted_by(request)
    found = treatments_of(request.firm, wanted).exclude(state__in=NEVER_SIGNED).order_by().values("pk")
    if not (before := fitted_before(request, wanted)):
        return found
    rows = Treatment.objects.for_firm(request.firm).order_by()
    return found.union(rows.filter(pk__in=before).values("pk"))


def asked_for(firm: Firm) -> Iterator[QuerySet[Treatment]]:
    """What each request that is open asks for: until it is closed nothing of it is to be lost."""
    for request in RecordsRequest.objects.for_firm(firm).filter(closed_at=None).select_related("firm"):
        yield signed_matches(request).order_by()


def fits_no_more(request: RecordsRequest) -> set[UUID]:
    """Of those the ones that fit as they stood when the request came in, or later, and now do not."""
    return set(fitted_before(request, wanted_by(request)))


def unsigned_matches(request: RecordsRequest) -> QuerySet[Treatment]:
    """What fits and is not signed: it is in no bundle, and somebody may ask why."""
    return treatments_of(request.firm, wanted_by(request)).filter(state__in=NEVER_SIGNED)


def void_matches(request: RecordsRequest) -> QuerySet[Treatment]:
    return signed_matches(request).filter(state=State.VOID)
