"""Hand records over as a bundle that anyone can check; each version of them is noted before a byte leaves."""

from collections.abc import Collection, Sequence
from typing import IO, Any
from uuid import UUID

from django.db import transaction

from records.bundle.entered import batched
from records.bundle.writer import Beside, nothing_beside, write_bundle
from records.models import AuditEntry, Firm, SignedRecord, User
from records.permissions import demand
from records.services.audit import change, note


def hand_over(
    firm: Firm,
    treatments: Sequence[UUID],
    out: IO[bytes],
    withheld: Collection[str] = (),
    *,
    by: User | None = None,
    page: str = "",
    beside: Beside = nothing_beside,
    photos: bool = False,
) -> None:
    """Write the bundle of these treatments. Without `by` the machine's owner does it.

    The look at the log and the drawing of papers take their time, so nothing is locked meanwhile. Raises
    PermissionDenied and NothingToBundleError.
    """
    if by is not None:
        demand(by, "records.hand_over", firm)
    _note(firm, treatments, withheld, by, page)
    write_bundle(firm, treatments, out, withheld, beside, photos=photos)


@transaction.atomic
def _note(firm: Firm, treatments: Sequence[UUID], withheld: Collection[str], by: Any, page: str) -> None:
    left_out = [change("withheld", None, sorted(withheld))] if withheld else []
    for some in batched(treatments):
        records = SignedRecord.objects.for_firm(firm).filter(treatment__in=some).defer("section_lines")
        for record in records.select_related("treatment").order_by("treatment__number", "version"):
            note(
                AuditEntry.Kind.EXPORTED,
                record,
                firm=firm,
                by=by,
                changes=left_out,
                reason="bundle",
                page=page,
            )
