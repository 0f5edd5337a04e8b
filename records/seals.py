"""What was signed on devices without a signal: that of a treatment, and what a manager should look at."""

from django.db.models import Exists, F, OuterRef, Q, QuerySet
from django.db.models.functions import Coalesce

from records.models import Firm, LookedAt, Seal, Treatment, User

NOT_TAKEN = Q(signed_record=None, later_fit=None, treatment__state=Treatment.State.DRAFT)
"""What was not taken as signed while its draft is still open."""


def seals_of(treatment: Treatment) -> QuerySet[Seal]:
    """Of a draft, what came in and was not taken as signed; of a record, all; the newest first."""
    seals = _shown(Seal.objects.for_firm(treatment.firm).filter(treatment=treatment))
    return seals.filter(signed_record=None) if treatment.state == Treatment.State.DRAFT else seals


def to_look_at(firm: Firm) -> QuerySet[Seal]:
    """Seals that are marked, or were not taken while the draft is still open, until a manager has looked at
    them as they now stand; those that were signed first, each with the newest first."""
    marked_later = Q(later_fit__isnull=False) & ~Q(later_fit__marks=[])
    seals = Seal.objects.for_firm(firm).filter(asks=True).filter(~Q(marks=[]) | marked_later | NOT_TAKEN)
    stands_since = Coalesce(OuterRef("later_fit__at"), OuterRef("received_at"))
    looks = LookedAt.objects.for_firm(firm).filter(seal=OuterRef("pk"), at__gte=stands_since)
    newest_first = F("signed_record__received_at").desc(nulls_last=True), "-received_at"
    return _shown(seals.filter(~Exists(looks))).order_by(*newest_first)


def to_settle(firm: Firm, signer: User) -> QuerySet[Seal]:
    """What this person signed on a device and is not taken, until its draft is signed; the newest first."""
    return _shown(Seal.objects.for_firm(firm).filter(NOT_TAKEN, by=signer))


def _shown(seals: QuerySet[Seal]) -> QuerySet[Seal]:
    """With what a page says of them."""
    seals = seals.select_related("by", "key", "treatment", "later_fit").defer("document", "answers")
    return seals.prefetch_related("looks__by")
