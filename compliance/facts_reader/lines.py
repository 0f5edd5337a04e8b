"""The lines of a treatment document that state one product, and whether it is the record at hand."""

from collections.abc import Sequence
from dataclasses import dataclass

from compliance.facts_reader.contradictions import traces_in_mixes, traces_of_work
from records.document.registration import registration_key
from records.document.types import Site, TreatmentDocument
from shared.folded import folded

MAY_BE_REGISTERED = (None, "pesticide")


@dataclass(frozen=True)
class Lines:
    """Mix and product of each line by their index; `lacks`: what is missing to know them all."""

    found: tuple[tuple[int, int], ...]
    lacks: tuple[str, ...]


def lines_of(document: TreatmentDocument, registration: str) -> Lines:
    """The lines with this registration number, by its key. A pesticide that states none may be the product;
    what was only planned for a day stood down is no use of it."""
    if document.record.result == "stood-down" and not any(traces_in_mixes(document)):
        return Lines((), ())
    if document.mixes is None:
        return Lines((), ("mixes",))
    found, lacks = [], []
    for m, mix in enumerate(document.mixes):
        if mix.products is None:
            lacks.append(f"mixes[{m}].products")
        for p, line in enumerate(mix.products or []):
            key = registration_key(line.registration_number)
            if key == registration:
                found.append((m, p))
            elif key is None and line.kind in MAY_BE_REGISTERED:
                lacks.append(f"mixes[{m}].products[{p}].registration_number")
    return Lines(tuple(found), tuple(lacks))


def earlier_lines_of(document: TreatmentDocument, registration: str) -> Lines:
    """Those of an earlier treatment. Without a result and any trace of work it may have been a plan."""
    lines = lines_of(document, registration)
    if not lines.found or document.record.result is not None or traces_of_work(document).items:
        return lines
    return Lines((), (*lines.lacks, "record.result"))


def earlier_of(
    document: TreatmentDocument, earlier: Sequence[TreatmentDocument]
) -> list[tuple[int, TreatmentDocument]]:
    """The earlier treatments with their places in the context. What was corrected counts as its last version
    states it, and the record itself not at all."""
    last: dict[str, int] = {}
    for other in earlier:
        if other.record.id is not None:
            last[other.record.id] = max(last.get(other.record.id, 0), _version(other))
    return [
        (number, other)
        for number, other in enumerate(earlier)
        if not is_same_record(document, other) and _version(other) >= last.get(other.record.id or "", 0)
    ]


def _version(document: TreatmentDocument) -> int:
    return int(document.record.version or 0)


def site_may_differ(one: TreatmentDocument, other: TreatmentDocument) -> bool:
    """Whether two treatments state sites of which it is not sure that they are one."""
    here, there = one.site or Site(), other.site or Site()
    if here.id is not None and there.id is not None:
        return here.id != there.id
    lines = [site.address.line1 if site.address else None for site in (here, there)]
    return None not in lines and folded(lines[0] or "") != folded(lines[1] or "")


def is_same_record(one: TreatmentDocument, other: TreatmentDocument) -> bool:
    """Whether one is a version of the other."""
    return one.record.id is not None and one.record.id == other.record.id
