"""Check a firm's whole register again by the packs of another day, in several processes, resumably."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db import transaction
from django.db.models import Exists, F, OuterRef, QuerySet

from compliance.models import Recheck, RecheckResult, StoredCheck
from compliance.rechecking import Job, Made
from compliance.services.pack_keeping import note_packs_in_use
from compliance.services.recheck_basis import Basis, archive_of, job_of, laws_of, policy_of
from compliance.side_by_side import Worker, in_processes
from records.models import Firm, Treatment
from shared import clock

AT_ONCE = 20
"""Records that a process takes at a time; as many results are stored together."""


class TakenUpElsewhereError(RuntimeError):
    """Another process is at work on the same run."""


@dataclass(frozen=True)
class Progress:
    """How far a run has come, and what came of the records of the last step."""

    done: int
    total: int
    results: Sequence[tuple[StoredCheck, Made]]


@dataclass(frozen=True)
class Summary:
    """Of so many records, how many come out differently, in how many the whole does, how many failed."""

    records: int
    differ: int
    whole_differs: int
    failed: int


def begin(firm: Firm, packs_of: str, day_from: date | None = None, day_until: date | None = None) -> Recheck:
    """A new run over the firm's signed treatments of these days (both count). Raises NoPacksKeptError."""
    note_packs_in_use()
    run = Recheck(
        firm=firm, packs_of=packs_of, day_from=day_from, day_until=day_until, started_at=clock.now()
    )
    run.laws = laws_of(firm, packs_of)
    run.total = _treatments(run).count()
    run.save()
    return run


def unfinished(
    firm: Firm, packs_of: str, day_from: date | None = None, day_until: date | None = None
) -> Recheck | None:
    """The firm's newest run of this kind that has not come to its end."""
    runs = Recheck.objects.for_firm(firm).filter(
        packs_of=packs_of, day_from=day_from, day_until=day_until, finished_at=None
    )
    return runs.order_by("-started_at").first()


def go_on(run: Recheck, processes: int = 1, language: str | None = None) -> Iterator[Progress]:
    """Take the run from where it is to its end, telling each step. Killed anywhere, it can be gone on with.

    The stored checks stay as they are: the same documents are judged in the same contexts on the same days,
    so that what differs is due to the packs. Raises TakenUpElsewhereError.
    """
    done = RecheckResult.objects.for_firm(run.firm).filter(run=run).count()
    basis = Basis(run.firm, run.laws, policy_of(run.firm, run.packs_of, run.started_at))
    worker = Worker(archive_of(basis), language)
    for bases, made in in_processes(_work(run, basis), worker, processes):
        _store(run, bases, made)
        done += len(bases)
        yield Progress(done, run.total, list(zip(bases, made, strict=True)))
    run.finished_at = clock.now()
    run.save(update_fields=["finished_at"])


def summary(run: Recheck) -> Summary:
    """The numbers of a run as far as it has come."""
    results = RecheckResult.objects.for_firm(run.firm).filter(run=run)
    differ = results.filter(differs=True)
    return Summary(
        records=results.count(),
        differ=differ.count(),
        whole_differs=differ.exclude(outcome=F("base__outcome")).count(),
        failed=results.filter(body=None).count(),
    )


def _treatments(run: Recheck, after: UUID | None = None) -> QuerySet[Treatment]:
    """The treatments that were checked when the run began, void ones apart, in the order of their keys."""
    checks = StoredCheck.objects.for_firm(run.firm).filter(treatment=OuterRef("pk"), at__lte=run.started_at)
    between = {"day__gte": run.day_from, "day__lte": run.day_until, "pk__gt": after}
    asked = {path: bound for path, bound in between.items() if bound is not None}
    treatments = Treatment.objects.for_firm(run.firm).filter(Exists(checks), **asked)
    return treatments.filter(erasure=None).exclude(state=Treatment.State.VOID).order_by("pk")


def _work(run: Recheck, basis: Basis) -> Iterator[tuple[list[StoredCheck], list[Job]]]:
    after = run.reached
    while keys := list(_treatments(run, after).values_list("pk", flat=True)[:AT_ONCE]):
        bases = _newest_checks(run, keys)
        yield bases, [job_of(base, basis) for base in bases]
        after = keys[-1]


def _newest_checks(run: Recheck, treatments: Sequence[UUID]) -> list[StoredCheck]:
    checks = StoredCheck.objects.for_firm(run.firm).filter(treatment__in=treatments, at__lte=run.started_at)
    rows = checks.select_related("signed_record", "treatment__site", "treatment__firm", "kept_context")
    rows = rows.defer("treatment__document", "treatment__unread").order_by("treatment_id", "at", "pk")
    return list({row.treatment_id: row for row in rows}.values())


@transaction.atomic
def _store(run: Recheck, bases: Sequence[StoredCheck], made: Sequence[Made]) -> None:
    reached = bases[-1].treatment_id
    here = Recheck.objects.for_firm(run.firm).filter(pk=run.pk, reached=run.reached)
    if not here.update(reached=reached):
        raise TakenUpElsewhereError(str(run.pk))
    rows = [
        RecheckResult(
            run=run,
            base=base,
            outcome=each.outcome,
            differs=each.differs,
            body=each.body,
            digest=each.digest,
            fault=each.fault,
        )
        for base, each in zip(bases, made, strict=True)
    ]
    RecheckResult.objects.bulk_create(rows)
    run.reached = reached
