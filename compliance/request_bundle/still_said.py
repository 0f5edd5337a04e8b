"""Say of a bundle that is made what was left out and stands in it all the same: which name, in which record."""

from collections.abc import Iterable
from typing import Any, NamedTuple

from compliance.models import Handing
from compliance.request_bundle.still_named import named_there, names_left_out
from records.models import SignedRecord
from records.record_files import record_file
from records.services.handing_over import left_out


class There(NamedTuple):
    record: SignedRecord
    names: list[str]


class StillNamed(NamedTuple):
    part: str
    versions: int
    first: list[There]


def still_said(handing: Handing) -> list[StillNamed]:
    """The names themselves are read from the records, and kept nowhere else."""
    found = {part: _read(each) for part, each in handing.named_still.items()}
    records = _records(handing, {treatment for _n, first in found.values() for treatment, _version in first})
    withheld = left_out(handing.withheld)
    return [
        StillNamed(part, n, [_there(records[each], part, withheld) for each in first if each in records])
        for part, (n, first) in found.items()
    ]


def _read(found: Any) -> tuple[int, list[tuple[str, int]]]:
    """Bundles that were made earlier have the number alone."""
    if isinstance(found, int):
        return found, []
    return found["versions"], [(treatment, version) for treatment, version in found["first"]]


def _records(handing: Handing, treatments: Iterable[str]) -> dict[tuple[str, int], SignedRecord]:
    rows = SignedRecord.objects.for_firm(handing.firm).filter(treatment__in=list(treatments))
    rows = rows.select_related("firm", "treatment", "proof_address")
    return {(str(each.treatment_id), each.version): each for each in rows}


def _there(record: SignedRecord, part: str, withheld: set[str]) -> There:
    names = names_left_out(record.sections, withheld)
    return There(record, named_there(names, record_file(record, with_log=False), part))
