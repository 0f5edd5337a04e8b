"""What was signed after a request came in: whoever gets it is to see that."""

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db.models import QuerySet

from compliance.models import RecordsRequest
from records.models import SignedFollowUp, SignedRecord


@dataclass(frozen=True)
class Since:
    """Versions and follow-ups, in the order in which they came in."""

    first: QuerySet[SignedRecord]
    corrected: QuerySet[SignedRecord]
    followed: QuerySet[SignedFollowUp]

    def up_to(self, size: int) -> "Since":
        """What is among the first so many entries of the log."""
        held = {"entry__index__lt": size}
        return Since(self.first.filter(**held), self.corrected.filter(**held), self.followed.filter(**held))


def signed_since(request: RecordsRequest, treatments: Any) -> Since:
    """Of these treatments, named by a query or by their ids."""
    late = {"received_at__gt": request.received_at}
    versions = SignedRecord.objects.for_firm(request.firm).filter(**late, treatment__in=treatments)
    versions = versions.select_related("treatment").order_by("received_at", "pk")
    followed = SignedFollowUp.objects.for_firm(request.firm).filter(**late, follows__treatment__in=treatments)
    return Since(
        versions.filter(version=1),
        versions.filter(version__gt=1),
        followed.select_related("follows__treatment").order_by("received_at", "pk"),
    )


def late_among(request: RecordsRequest, treatments: Collection[UUID]) -> list[UUID]:
    """Those of which something was signed after the request came in; the rest may be very many."""
    late = {"received_at__gt": request.received_at}
    versions = SignedRecord.objects.for_firm(request.firm).filter(**late).values_list("treatment", flat=True)
    followed = SignedFollowUp.objects.for_firm(request.firm).filter(**late)
    found = {*versions.order_by(), *followed.order_by().values_list("follows__treatment", flat=True)}
    return sorted(found & set(treatments))
