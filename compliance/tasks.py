"""What the worker does for compliance."""

from django_tasks import task

from compliance.models import WhatIf
from compliance.services.check import recheck
from compliance.services.what_if import go_through
from records.models import Firm, SignedRecord


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
