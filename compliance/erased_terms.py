"""Look at what was erased: by the kept checks of its record its term was over. It is worked out anew."""

import zlib
from collections.abc import Iterator
from typing import Any

from django.db.models import Exists, OuterRef
from django.dispatch import receiver

from compliance.models import StoredCheck
from compliance.services.keeping import term_of_treatment
from records.document.faults import Fault
from records.log_found import Broken
from records.models import Erasure, Firm
from records.signals import firm_looked_at

_AT_A_TIME = 500


@receiver(firm_looked_at)
def look_at_terms(firm: Firm, **_: Any) -> list[Broken]:
    """What was erased before its term was over, or without one that its checks tell."""
    return list(_within_term(firm))


def _within_term(firm: Firm) -> Iterator[Broken]:
    checks = StoredCheck.objects.for_firm(firm).filter(treatment=OuterRef("treatment"))
    rows = Erasure.objects.for_firm(firm).filter(Exists(checks)).select_related("treatment__firm")
    for row in rows.defer("treatment__document").iterator(_AT_A_TIME):
        try:
            term = term_of_treatment(row.treatment)
        except (ValueError, TypeError, LookupError, zlib.error):
            continue  # that check is named for itself
        if term is None or row.on <= term.until:
            until = term.until.isoformat() if term else "–"
            yield Broken(
                str(row.treatment.number),
                Fault("", "log/erased_within_term", {"on": row.on.isoformat(), "until": until}),
            )
