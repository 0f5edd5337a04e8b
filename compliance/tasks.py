"""What the worker does for compliance."""

from datetime import timedelta
from uuid import UUID

from django_tasks import task

from compliance.models import Handing, WhatIf
from compliance.services.check import recheck
from compliance.services.what_if import go_through
from records.models import Firm, SignedRecord
from shared import clock

A_MINUTE = timedelta(minutes=1)
MOST_TRIES = 3


@task()
def recheck_record(record_id: str, firm_id: str) -> None:
    """Check a signed record again after a follow-up, and store what was found; one that was erased is not."""
    records = SignedRecord.objects.for_firm(Firm(pk=firm_id)).select_related("treatment__site", "firm")
    record = records.get(pk=record_id)
    if not hasattr(record.treatment, "erasure"):
        recheck(record)


@task()
def ask_what_if(run_id: str, firm_id: str) -> None:
    """Ask which records would have come out differently with other rules of the firm."""
    firm = Firm(pk=firm_id)
    go_through(WhatIf.objects.for_firm(firm).select_related("version__firm", "firm").get(pk=run_id))


@task()
def make_handing(handing_id: str, firm_id: str, run: str) -> None:
    """Make the bundle that answers a request."""
    from compliance.request_bundle.making import make

    make(_handing(handing_id, firm_id), UUID(run))


@task()
def look_after_handing(handing_id: str, firm_id: str, tries: int = 0) -> None:
    """A bundle whose worker died goes on, a few times: one that kills it must not do so for ever."""
    from compliance.services.handings import go_on

    go_on(_handing(handing_id, firm_id), tries)


@task()
def drop_old_handing(handing_id: str, firm_id: str) -> None:
    """The file of a bundle goes when its time is over."""
    from compliance.request_bundle.letting_go import let_go

    let_go(_handing(handing_id, firm_id))


def look_after_handing_later(handing: Handing, tries: int = 0) -> None:
    """Where tasks are done at once, as in tests, nothing is done later."""
    if tries < MOST_TRIES and look_after_handing.get_backend().supports_defer:
        later = clock.now() + Handing.SILENCE + A_MINUTE
        look_after_handing.using(run_after=later).enqueue(str(handing.pk), str(handing.firm_id), tries)


def drop_handing_later(handing: Handing) -> None:
    if drop_old_handing.get_backend().supports_defer:
        later = clock.now() + Handing.KEPT
        drop_old_handing.using(run_after=later).enqueue(str(handing.pk), str(handing.firm_id))


def _handing(handing_id: str, firm_id: str) -> Handing:
    rows = Handing.objects.for_firm(Firm(pk=firm_id))
    return rows.select_related("firm", "by", "request", "since").get(pk=handing_id)
