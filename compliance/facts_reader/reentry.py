"""Until when people stay out after the work, the longest of what the record and its labels say."""

from datetime import timedelta
from fractions import Fraction

from compliance.rulebook.facts import Leaf
from records.document.types import TreatmentDocument
from shared.quantities import Quantity
from shared.times import read_time

_AT, _END = "timing.reentry_at", "timing.finished_at"


def reentry_of(document: TreatmentDocument) -> Leaf:
    """The moment; none where neither the record nor a label gives one, or the end is not stated."""
    timing = document.timing
    stated = read_time(timing.reentry_at) if timing and timing.reentry_at else None
    end = read_time(timing.finished_at) if timing and timing.finished_at else None
    longest = max(_minutes(document), default=None)
    by_label = end + timedelta(minutes=float(longest)) if end and longest is not None else None
    moments = {_AT: stated, _END: by_label}
    known = {path: moment for path, moment in moments.items() if moment}
    if not known:
        lacks = (_AT,) if longest is None else (_END,)
        return Leaf(None, lacks, lacks)
    path = max(known, key=lambda path: known[path])
    return Leaf(known[path], (path,))


def _minutes(document: TreatmentDocument) -> list[Fraction]:
    """The intervals of the labels, in minutes."""
    lines = [line for mix in document.mixes or [] for line in mix.products or [] if line.label]
    limits = [limit for line in lines if line.label for limit in line.label.limits or []]
    bounds = [limit.min for limit in limits if limit.of == "reentry"]
    return [bound.to("min") for bound in bounds if isinstance(bound, Quantity)]
