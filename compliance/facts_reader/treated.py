"""The surfaces that something went on, and how large those are that other than exempt products went on."""

from collections.abc import Container
from fractions import Fraction

from compliance.rulebook.facts import Branch, Items, Leaf, branches, leaf_of, member
from compliance.rulebook.sizes import Exact
from records.document.areas import treated_by
from records.document.types import TreatmentDocument
from shared.quantities import Quantity

_SURFACES = "surfaces"
_EXEMPTIONS = ("only_exempt", "only_granules")


def treated_surfaces(document: TreatmentDocument, root: Branch, *, finished: bool) -> Items:
    """The surfaces of a treatment. Once it is finished without those that no mix went on and that have no
    treated area: they were left for another day. Where a mix does not say where it went, it may be on each."""
    surfaces = member(root, _SURFACES)
    if not isinstance(surfaces, Items):
        return Items((), (_SURFACES,), (_SURFACES,), absent=True)
    went_on = [treated_by(document, place) for place in range(len(document.mixes or []))]
    if not finished or not went_on or any(one.lacks or not one.surfaces for one in went_on):
        return surfaces
    named = {number for one in went_on for number in one.surfaces}
    areas = [surface.treated_area for surface in document.surfaces or []]
    treated = tuple(
        surface
        for number, (surface, area) in enumerate(zip(surfaces.items, areas, strict=True))
        if number in named or area is not None
    )
    return Items(treated, surfaces.about, surfaces.lacks)


def area_not_exempt(treated: Items, kinds: Container[str]) -> Leaf:
    """The area treated on surfaces of these kinds (and of a kind not stated) with other than exempt products
    and granules; nothing where there is no such surface."""
    if treated.absent:
        return Leaf(None, treated.lacks, treated.lacks)
    total = Fraction(0)
    unknown: list[Leaf] = []
    for surface in branches(treated):
        kind, area = leaf_of(surface, "kind").value, leaf_of(surface, "treated_area")
        exemptions = [leaf_of(surface, name) for name in _EXEMPTIONS]
        if (kind is not None and str(kind) not in kinds) or any(one.value is True for one in exemptions):
            continue
        unknown += [one for one in (*exemptions, area) if one.value is None]
        total += area.value.to("ft**2") if isinstance(area.value, Quantity) else 0
    if unknown:
        lacks = tuple(path for one in unknown for path in one.lacks or one.about)
        return Leaf(None, lacks, lacks, next((one.why for one in unknown if one.why), None))
    return Leaf(Exact(total, "ft**2"), (_SURFACES,))
