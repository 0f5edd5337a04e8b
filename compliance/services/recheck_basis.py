"""By what a check is made again: the packs of a day, the firm's own rules of that day, its own context."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from compliance.models import PackVersion, StoredCheck
from compliance.pack_archive import Kept, keep
from compliance.pack_reader import registered_packs
from compliance.rechecking import Job, Made, do
from compliance.rulebook.pack import Pack
from compliance.services.check import context_of
from compliance.services.own_rules import pack_in_use
from compliance.services.pack_keeping import all_kept, end_of, note_packs_in_use, packs_in_use_on
from compliance.stored_form import compressed
from records.document.canonical import as_json
from records.models import Firm
from records.selectors import document_of
from shared import clock

TODAY, STORED = "today", "stored"
"""By the packs of now, and by those that each check names; else by those of a day, as 2026-01-31."""


@dataclass(frozen=True)
class Basis:
    """The digests of the packs of laws (None: those that each check names), and the firm's own pack."""

    firm: Firm
    laws: Sequence[str] | None
    policy: Pack | None


def make_again(base: StoredCheck, packs_of: str) -> Made:
    """One check by the packs of a day, of TODAY or STORED; nothing is stored. Raises NoPacksKeptError."""
    note_packs_in_use()
    laws = laws_of(base.firm, packs_of)
    basis = Basis(base.firm, laws, policy_of(base.firm, packs_of, clock.now()))
    return do(job_of(base, basis), archive_of(basis))


def laws_of(firm: Firm, packs_of: str) -> list[str] | None:
    """The digests of the packs of laws that were in use. Raises NoPacksKeptError."""
    if packs_of == STORED:
        return None
    if packs_of == TODAY:
        return [pack.digest for pack in registered_packs()]
    return [kept.digest for kept in packs_in_use_on(date.fromisoformat(packs_of), firm.time_zone)]


def policy_of(firm: Firm, packs_of: str, now: datetime) -> Pack | None:
    """The firm's own rules that were in use at the end of that day (at `now`, for TODAY)."""
    if packs_of == STORED:
        return None
    moment = now if packs_of == TODAY else end_of(date.fromisoformat(packs_of), firm.time_zone)
    return pack_in_use(firm, moment)


def archive_of(basis: Basis) -> Mapping[str, Kept]:
    """The kept packs by digest: those of the basis, else every one that a check may name."""
    if basis.laws is None:
        kept = all_kept(basis.firm)
    else:
        kept = [row.as_kept() for row in PackVersion.objects.filter(pk__in=basis.laws)]
    return {each.digest: each for each in kept}


def job_of(base: StoredCheck, basis: Basis) -> Job:
    """What has to be known to make this check again."""
    return Job(
        base=bytes(base.body),
        document=document_of(base.signed_record),
        context=_context(base),
        laws=None if basis.laws is None else tuple(basis.laws),
        policy=keep(basis.policy) if basis.policy else None,
    )


def _context(base: StoredCheck) -> bytes:
    """The context that was kept with the check; where it was erased, what the firm's records give now."""
    kept = getattr(base, "kept_context", None)
    if kept is not None:
        return bytes(kept.body)
    return compressed(as_json(context_of(base.treatment, base.treatment.day, base.on)))
