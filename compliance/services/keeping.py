"""Which records are kept no longer, and erasing what they say of people. Nothing is erased by itself."""

from datetime import date
from functools import cache

from django.db import transaction
from django.db.models import Exists, OuterRef, QuerySet

from compliance.models import CheckContext, StoredCheck, VisitSaid
from compliance.pack_reader import registered_packs
from compliance.request_bundle.letting_go import let_go_of_all_with
from compliance.services.request_matches import asked_for
from compliance.terms import Term, term_of
from records.models import Erasure, Firm, LegalHold, Treatment, User
from records.services.drafts import lock
from records.services.erasing import NotErasableError, erase
from records.services.projection import set_keep_until

State = Treatment.State
RETENTION = "retention"


@cache
def retention_rules() -> frozenset[str]:
    """The ids of all rules of the registered packs that set a term."""
    rules = (rule for pack in registered_packs() for rule in pack.rules)
    return frozenset(rule.id for rule in rules if any(duty.kind.name == RETENTION for duty in rule.all_duties))


def term_of_treatment(treatment: Treatment) -> Term | None:
    """By all stored checks of all its versions; None: there is none that can be told, so it is kept."""
    checks = StoredCheck.objects.for_firm(treatment.firm).filter(treatment=treatment).order_by("at", "pk")
    return term_of([check.stored for check in checks], retention_rules())


def note_term(treatment: Treatment) -> None:
    """Keep the term beside the treatment, so that what is over can be found."""
    term = term_of_treatment(treatment)
    set_keep_until(treatment, term and term.until)


def expired(firm: Firm, today: date) -> QuerySet[Treatment]:
    """Treatments of which something may be erased: their term is over, nothing holds them and no open request
    asks for them; oldest first."""
    holds = LegalHold.objects.for_firm(firm).filter(treatment=OuterRef("pk"), lifted=None)
    treatments = Treatment.objects.for_firm(firm).filter(
        ~Exists(holds),
        keep_until__lt=today,
        state__in=(State.SIGNED, State.CORRECTED, State.VOID),
        erasure=None,
    )
    for wanted in asked_for(firm):
        treatments = treatments.exclude(pk__in=wanted.values("pk"))
    return treatments.select_related("firm").order_by("keep_until", "pk")


@transaction.atomic
def erase_treatment(treatment: Treatment, today: date, by: User | None = None) -> Erasure:
    """Erase what its records and what was known around them say of people; the term is worked out anew.

    Raises PermissionDenied, NotErasableError and SigningKeyError.
    """
    locked = lock(treatment)
    term = term_of_treatment(locked)
    if term is None or any(wanted.filter(pk=locked.pk).exists() for wanted in asked_for(locked.firm)):
        raise NotErasableError(locked.number)
    erasure = erase(locked, term.until, term.under, today, by)
    CheckContext.objects.for_firm(locked.firm).filter(check_made__treatment=locked).delete()
    VisitSaid.objects.for_firm(locked.firm).filter(treatment=locked).delete()
    let_go_of_all_with(locked.firm, locked.pk)
    return erasure
