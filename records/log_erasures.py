"""Whether what a firm's records have lost was erased in good order: signed, after the term, not held."""

from collections.abc import Iterator, Mapping
from typing import Any
from uuid import UUID

from django.db.models import Q

from records.document.erasure import is_in_order
from records.document.faults import Fault
from records.log_columns import Other
from records.models import Erasure, Firm, LegalHold

Json = Mapping[str, Any]


def erasure_faults(row: Erasure, stated: Json) -> Iterator[Fault]:
    """What is wrong with an erasure as it was signed, and with erasing then."""
    if not is_in_order(stated, str(row.firm_id)):
        yield Fault("", "log/erasure_other")
    held = LegalHold.objects.for_firm(row.firm).filter(treatment=row.treatment_id, at__lte=row.at)
    if held.filter(Q(lifted=None) | Q(lifted__at__gt=row.at)).exists():
        yield Fault("", "log/erased_while_held")


def erasure_otherwise(row: Erasure, stated: Json) -> Iterator[Other]:
    """The columns of an erasure that its bytes do not say."""
    kept = {
        "treatment": str(row.treatment_id),
        "sections": row.sections,
        "kept_until": row.kept_until.isoformat(),
        "under": row.under,
        "on": row.on.isoformat(),
        "at": row.at.isoformat(timespec="microseconds"),
    }
    yield from ((name, value, stated[name]) for name, value in kept.items() if value != stated[name])


def erasure_of(firm: Firm, treatment: UUID) -> Erasure | None:
    return Erasure.objects.for_firm(firm).filter(treatment=treatment).first()


def gone_faults(erasure: Erasure | None, gone: list[str]) -> Iterator[Fault]:
    """A section that is not there was erased, or taken out."""
    for name in gone:
        if erasure is None or name not in erasure.sections:
            yield Fault("", "log/section_gone", {"section": name})
