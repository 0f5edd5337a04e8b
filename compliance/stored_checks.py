"""Look at the kept checks of a firm: each is what its digest names, and what its record was signed with."""

import json
import zlib
from collections.abc import Iterator
from typing import Any

from django.dispatch import receiver

from compliance.models import StoredCheck
from compliance.stored_form import unsqueezed
from records.document.faults import Fault
from records.log_found import Broken
from records.models import Firm, SignedRecord
from records.signals import firm_looked_at
from shared.digests import digest

_AT_A_TIME = 500


@receiver(firm_looked_at)
def look_at_checks(firm: Firm, **_: Any) -> list[Broken]:
    """What does not hold of the firm's checks, and the signed records whose check is gone."""
    return [*_changed(firm), *_gone(firm)]


def _changed(firm: Firm) -> Iterator[Broken]:
    checks = StoredCheck.objects.for_firm(firm).select_related("signed_record__treatment")
    unused = "signed_record__treatment__document", "signed_record__section_lines"
    for check in checks.defer(*unused).iterator(_AT_A_TIME):
        record, signing = check.signed_record, check.occasion == StoredCheck.Occasion.SIGNING
        if not _is_whole(check):
            yield _broken(record, "log/check_changed")
        elif signing and check.digest != _signed_with(record):
            yield _broken(record, "log/check_other")


def _is_whole(check: StoredCheck) -> bool:
    try:
        body = unsqueezed(bytes(check.body))
        stored = json.loads(body)
        said = stored["outcome"], stored["on"]
    except (zlib.error, ValueError, TypeError, KeyError):
        return False
    return digest(body) == check.digest and said == (check.outcome, check.on.isoformat())


def _gone(firm: Firm) -> Iterator[Broken]:
    signing = StoredCheck.objects.for_firm(firm).filter(occasion=StoredCheck.Occasion.SIGNING)
    without = SignedRecord.objects.for_firm(firm).exclude(pk__in=signing.values("signed_record"))
    for record in without.select_related("treatment").defer("section_lines").iterator(_AT_A_TIME):
        if _signed_with(record):
            yield _broken(record, "log/check_gone")


def _signed_with(record: SignedRecord) -> str | None:
    """The digest of the check that the record names; none where its bytes say nothing, which the log tells."""
    try:
        named: str | None = json.loads(bytes(record.record))["check"]["digest"]
    except (ValueError, TypeError, KeyError, RecursionError):
        return None
    return named


def _broken(record: SignedRecord, wording: str) -> Broken:
    return Broken(f"{record.treatment.number} v{record.version}", Fault("", wording))
