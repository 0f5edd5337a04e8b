"""The lines of a treatment document that state one product, and whether it is the record at hand."""

from dataclasses import dataclass

from compliance.facts_reader.contradictions import traces_in_mixes
from records.document.registration import registration_key
from records.document.types import TreatmentDocument

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


def is_same_record(one: TreatmentDocument, other: TreatmentDocument) -> bool:
    """Whether one is a version of the other."""
    return one.record.id is not None and one.record.id == other.record.id
