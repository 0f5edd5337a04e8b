"""Until when people stay out after the work, the longest of what the record and its labels say."""

from datetime import timedelta
from fractions import Fraction

from compliance.facts_reader.lines import MAY_BE_REGISTERED
from compliance.rulebook.facts import Leaf
from records.document.types import TreatmentDocument
from shared.quantities import Quantity
from shared.times import read_time

_AT, _END = "timing.reentry_at", "timing.finished_at"


def reentry_of(document: TreatmentDocument) -> Leaf:
    """The longest that is known, and what is missing to know that none is longer; without lacks and moment, if
    neither the record nor a label gives one."""
    timing = document.timing
    stated = read_time(timing.reentry_at) if timing and timing.reentry_at else None
    end = read_time(timing.finished_at) if timing and timing.finished_at else None
    intervals, unread = _minutes(document)
    longest = max(intervals, default=None)
    by_label = end + timedelta(minutes=float(longest)) if end and longest is not None else None
    moments = {_AT: stated, _END: by_label}
    known = {path: moment for path, moment in moments.items() if moment}
    lacks = (*unread, *((_END,) if longest is not None and end is None else ()))
    if not known:
        return Leaf(None, lacks or (_AT,), lacks)
    path = max(known, key=lambda path: known[path])
    return Leaf(known[path], (path,), lacks)


def _minutes(document: TreatmentDocument) -> tuple[list[Fraction], tuple[str, ...]]:
    """The intervals of the labels, in minutes, and the members that may hold another one."""
    found, unread = [], []
    for m, mix in enumerate(document.mixes or []):
        for p, line in enumerate(mix.products or []):
            path, label = f"mixes[{m}].products[{p}].label.limits", line.label
            if label is None or label.limits is None:
                unread += [path] if line.kind in MAY_BE_REGISTERED else []
                continue
            bounds = [limit.min for limit in label.limits if limit.of == "reentry"]
            found += [bound.to("min") for bound in bounds if isinstance(bound, Quantity)]
            if None in bounds or any(limit.of is None for limit in label.limits):
                unread.append(path)
    return found, tuple(unread)
