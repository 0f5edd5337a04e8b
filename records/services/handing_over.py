"""Hand records over as a bundle that anyone can check; each version of them is noted before a byte leaves."""

from collections.abc import Collection, Sequence
from typing import IO, Any
from uuid import UUID

from django.db import transaction

from records.bundle.entered import batched
from records.bundle.writer import Beside, nothing_beside, write_bundle
from records.models import AuditEntry, Firm, SignedRecord, User
from records.permissions import demand
from records.services.audit import change, entry_of

AT_FIRST = ("notices",)
"""They may name neighbours: left out unless somebody asks for them."""
_ALONG = {"customer": {"notices", "incidents"}}


def left_out(withheld: Collection[str]) -> set[str]:
    """What goes out of a copy: where the customer is left out, so is what may name them."""
    return set(withheld).union(*(_ALONG.get(name, ()) for name in withheld))


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
    """Write the bundle of these treatments without what is `withheld` and what goes along with it (`left_out`).
    Without `by` the machine's owner does it.

    The look at the log and the drawing of papers take their time, so nothing is locked meanwhile. Raises
    PermissionDenied and NothingToBundleError.
    """
    if by is not None:
        demand(by, "records.hand_over", firm)
    without = left_out(withheld)
    note_handed_over(firm, treatments, without, by, page)
    write_bundle(firm, treatments, out, without, beside, photos=photos)


@transaction.atomic
def note_handed_over(
    firm: Firm, treatments: Sequence[UUID], withheld: Collection[str], by: Any, page: str
) -> None:
    """Each version is noted, with what was left out of it."""
    left_out = [change("withheld", None, sorted(withheld))] if withheld else []
    told = {"firm": firm, "by": by, "changes": left_out, "reason": "bundle", "page": page}
    for some in batched(treatments):
        records = SignedRecord.objects.for_firm(firm).filter(treatment__in=some).defer("section_lines")
        ordered = records.select_related("treatment").order_by("treatment__number", "version")
        exported = AuditEntry.Kind.EXPORTED
        AuditEntry.objects.bulk_create([entry_of(exported, record, **told) for record in ordered])
