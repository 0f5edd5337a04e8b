"""Which surfaces a mix went on, and how large they are."""

from fractions import Fraction

from records.document.computed import Amount, NoAmount, Sum, missing
from records.document.types import Surface, TreatmentDocument


def surfaces_of(document: TreatmentDocument, mix: int) -> list[int] | None:
    """The indices of the surfaces that the mix went on: those that it names, else all. None if unknown."""
    named = (document.mixes or [])[mix].surfaces
    if document.surfaces is None:
        return None
    if named is None:
        return list(range(len(document.surfaces)))
    found = [surface_named(document, on.surface) for on in named if on.surface]
    return [index for index in found if index is not None]


def surface_named(document: TreatmentDocument, reference: str) -> int | None:
    """The index of the surface with this id or name."""
    for index, surface in enumerate(document.surfaces or []):
        if reference in (surface.id, surface.name):
            return index
    return None


def total_area(document: TreatmentDocument, mix: int) -> Amount | NoAmount:
    """The treated areas of the mix's surfaces, added, in the first one's unit."""
    indices = surfaces_of(document, mix)
    if not indices:
        return missing(["surfaces" if indices is None else f"mixes[{mix}].surfaces"])
    areas = [_surface(document, index).treated_area for index in indices]
    not_there = [
        f"surfaces[{index}].treated_area" for index, area in zip(indices, areas, strict=True) if not area
    ]
    if not_there:
        return missing(not_there)
    there = tuple(area for area in areas if area)
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
