"""What the worker does for compliance."""

from django_tasks import task

from compliance.services.check import recheck
from records.models import Firm, SignedRecord


@task()
def recheck_record(record_id: str, firm_id: str) -> None:
    """Check a signed record again after a follow-up, and store what was found."""
    firm = Firm(pk=firm_id)
    recheck(SignedRecord.objects.for_firm(firm).select_related("treatment__site", "firm").get(pk=record_id))
