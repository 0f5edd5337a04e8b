"""Which surfaces a mix went on, and how large they are."""

from fractions import Fraction

from records.document.computed import Amount, NoAmount, Sum, missing
from records.document.types import Surface, TreatmentDocument
from shared.values import Value

_SPRAYED_SOMEWHERE = "applied-to-labelled-site"


class Treated(Value, frozen=True):
    """The indices of the surfaces that a mix went on, and the members that are missing to know them all."""

    surfaces: tuple[int, ...]
    lacks: tuple[str, ...] = ()


def treated_by(document: TreatmentDocument, mix: int) -> Treated:
    """The surfaces that the mix names, and the one on which what was left over of it was sprayed."""
    named, left = named_by(document, mix), (document.mixes or [])[mix].left_over
    if left is None or document.surfaces is None:
        return named
    if left.surface is None:
        unknown = left.disposition == _SPRAYED_SOMEWHERE
        lacks = (f"mixes[{mix}].left_over.surface",) if unknown else ()
        return Treated(named.surfaces, (*named.lacks, *lacks))
    there = surface_named(document, left.surface)
    if there is None or there in named.surfaces:
        return named
    return Treated((*named.surfaces, there), named.lacks)


def named_by(document: TreatmentDocument, mix: int) -> Treated:
    """The surfaces that the mix names."""
    named, path = (document.mixes or [])[mix].surfaces, f"mixes[{mix}].surfaces"
    if document.surfaces is None or named is None:
        return Treated((), ("surfaces" if document.surfaces is None else path,))
    surfaces, lacks = [], []
    for place, on in enumerate(named):
        index = surface_named(document, on.surface) if on.surface else None
        if index is None:
            lacks.append(f"{path}[{place}].surface")
        else:
            surfaces.append(index)
    return Treated(tuple(surfaces), tuple(lacks))


def surface_named(document: TreatmentDocument, reference: str) -> int | None:
    """The index of the surface with this id or name."""
    for index, surface in enumerate(document.surfaces or []):
        if reference in (surface.id, surface.name):
            return index
    return None


def total_area(document: TreatmentDocument, mix: int) -> Amount | NoAmount:
    """The treated areas of the mix's surfaces, added, in the first one's unit."""
    treated = named_by(document, mix)
    areas = {index: _surface(document, index).treated_area for index in treated.surfaces}
    not_there = [f"surfaces[{index}].treated_area" for index, area in areas.items() if not area]
    if treated.lacks or not_there or not areas:
        return missing([*treated.lacks, *not_there] or [f"mixes[{mix}].surfaces"])
    there = tuple(area for area in areas.values() if area)
    unit = there[0].unit
    exact = sum((area.to(unit) for area in there), Fraction(0))
    return Amount(exact, unit, "amount/sum", {"parts": Sum(there)})


def _surface(document: TreatmentDocument, index: int) -> Surface:
    return (document.surfaces or [])[index]


def area_of(document: TreatmentDocument, path: str, reference: str | None) -> Amount | NoAmount:
    """The treated area of the surface that the application at `path` refers to."""
    index = surface_named(document, reference) if reference else None
    if index is None:
        return missing(["surfaces" if reference else path.replace(".applied", ".surface")])
    area = _surface(document, index).treated_area
    if not area:
        return missing([f"surfaces[{index}].treated_area"])
    return Amount(area.exact, area.unit, "amount/sum", {"parts": area})
