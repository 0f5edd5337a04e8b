"""What was signed on devices without a signal: that of a treatment, and what a manager should look at."""

from datetime import timedelta

from django.db.models import F, Q, QuerySet

from records.models import Firm, Seal, Treatment
from shared import clock

LOOKED_BACK = timedelta(days=14)


def seals_of(treatment: Treatment) -> QuerySet[Seal]:
    """Of a draft, what came in and was not taken as signed; of a record, all; the newest first."""
    seals = Seal.objects.for_firm(treatment.firm).filter(treatment=treatment)
    seals = seals.select_related("by", "key").defer("document", "answers")
    return seals.filter(signed_record=None) if treatment.state == Treatment.State.DRAFT else seals


def to_look_at(firm: Firm) -> QuerySet[Seal]:
    """Seals of the last two weeks that are marked, or were not taken while the draft is still open."""
    open_states = [Treatment.State.DRAFT]
    asks = ~Q(marks=[]) | Q(signed_record=None, treatment__state__in=open_states)
    since = clock.now() - LOOKED_BACK
    seals = Seal.objects.for_firm(firm).filter(asks, received_at__gte=since)
    newest_first = seals.select_related("by", "key", "treatment").defer("document", "answers")
    return newest_first.order_by(F("signed_record").asc(nulls_last=True), "-received_at")
