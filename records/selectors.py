"""Read what is recorded, one firm at a time."""

import json
from datetime import date, timedelta
from typing import Any
from uuid import UUID

from django.db.models import Q, QuerySet
from django.http import Http404
from django.shortcuts import get_object_or_404

from records.models import (
    Firm,
    SignedFollowUp,
    SignedRecord,
    Treatment,
)
from records.models.treatments import SIGNED_STATES

Json = dict[str, Any]
DAY = timedelta(days=1)
LOOKED_BACK = 20


def treatment_of(firm: Firm, uuid: UUID, *, drafts: bool = True) -> Treatment:
    """The firm's treatment of this id; Http404 where there is none, also when it is another firm's.

    Without `drafts` as it was signed last, to be looked at and not saved; Http404 where nothing is signed.
    """
    treatments = Treatment.objects.for_firm(firm).select_related("firm", "site__customer")
    treatment = get_object_or_404(treatments, pk=uuid)
    if treatment.is_open and not drafts:
        newest = newest_signed(treatment)
        if newest is None:
            raise Http404("nothing is signed")
        treatment.document, treatment.unread = document_of(newest), {}
    return treatment


def documents_before(treatment: Treatment) -> list[Json]:
    """The documents of the firm's treatments before this one, the newest first, as many as are worth a look."""
    before = Treatment.objects.for_firm(treatment.firm).filter(
        day__lte=treatment.day, planned_at__lt=treatment.planned_at
    ).exclude(state=Treatment.State.BROUGHT_IN)
    return list(before.order_by("-day", "-planned_at").values_list("document", flat=True)[:LOOKED_BACK])


def signed_versions(treatment: Treatment) -> QuerySet[SignedRecord]:
    """What was signed for the treatment, newest version first."""
    return SignedRecord.objects.for_firm(treatment.firm).filter(treatment=treatment).order_by("-version")


def newest_signed(treatment: Treatment, log_size: int | None = None) -> SignedRecord | None:
    """The version that holds now, or did when the log had so many entries; None for a draft."""
    versions = signed_versions(treatment)
    if log_size is not None:
        versions = versions.exclude(entry__index__gte=log_size)
    return versions.first()


def signed_record_of(firm: Firm, uuid: UUID, version: int | None = None) -> SignedRecord:
    """A signed version of this treatment, the newest if none is named; Http404 where there is none."""
    versions = SignedRecord.objects.for_firm(firm).filter(treatment=uuid).select_related("treatment", "firm")
    if version is not None:
        versions = versions.filter(version=version)
    record = versions.order_by("-version").first()
    if record is None:
        raise Http404("no such signed record")
    return record


def document_of(record: SignedRecord) -> Json:
    """The treatment document that was signed."""
    signed = json.loads(bytes(record.record))
    return {**record.sections, "record": signed["record"]}


def follow_ups_of(treatment: Treatment) -> QuerySet[SignedFollowUp]:
    """The follow-ups of every version of the treatment, newest first."""
    follow_ups = SignedFollowUp.objects.for_firm(treatment.firm)
    return follow_ups.filter(follows__treatment=treatment).order_by("-at", "-received_at")


def two_years_before(day: date) -> date:
    """The same day two years before; the 28th for a 29 February."""
    return (
        day.replace(year=day.year - 2, day=28)
        if (day.month, day.day) == (2, 29)
        else day.replace(year=day.year - 2)
    )


def earlier_documents(treatment: Treatment, day: date) -> list[Json]:
    """Signed documents of the same site in the two years up to the day, newest first; none void."""
    treatments = Treatment.objects.for_firm(treatment.firm).filter(
        Q(day=day, planned_at__lt=treatment.planned_at) | Q(day__range=(two_years_before(day), day - DAY)),
        site=treatment.site_id,
        state__in=SIGNED_STATES,
    )
    records = SignedRecord.objects.for_firm(treatment.firm).filter(replaced_by=None)
    earlier = records.filter(treatment__in=treatments.exclude(pk=treatment.pk))
    return [document_of(record) for record in earlier.order_by("-treatment__day", "-treatment__planned_at")]
