"""What one application gives a surface of one product, by all its lines and mixes, as a label counts it."""

from collections.abc import Callable, Sequence
from fractions import Fraction

from compliance.facts_reader.unmeasured import unmeasured_sum
from compliance.rulebook.facts import Paths
from compliance.rulebook.sizes import Exact, Measured
from records.document import amounts
from records.document.areas import surface_named, treated_by
from records.document.computed import Amount, NoAmount, missing
from records.document.registration import registration_key
from records.document.types import Product, TreatmentDocument
from shared.folded import folded

Line = tuple[int, int]
_Part = Amount | NoAmount


def same_product(document: TreatmentDocument, mix: int, product: int) -> list[Line]:
    """The lines of the record that state this product, this one among them: two lots of it, say."""
    own = _line(document, mix, product)
    return [
        (m, p)
        for m, parts in enumerate(document.mixes or [])
        for p, line in enumerate(parts.products or [])
        if (m, p) == (mix, product) or _is_same(own, line)
    ]


def strength(document: TreatmentDocument, mix: int, product: int, unit: str) -> Measured:
    """The strength of the mix in this product, by all its lines in the mix."""
    lines = [line for line in same_product(document, mix, product) if line[0] == mix]
    parts = [amounts.strength(document, m, p, unit) for m, p in lines]
    return _together(parts, tuple([f"mixes[{m}].products[{p}].amount" for m, p in lines]))


def rates(document: TreatmentDocument, mix: int, product: int, unit: str) -> tuple[Measured, ...]:
    """The product applied per area: one for all surfaces of the mix, or where another mix holds the product
    too, one for each surface."""
    lines = same_product(document, mix, product)
    if {m for m, _ in lines} == {mix}:
        parts = [amounts.product_rate(document, m, p, unit) for m, p in lines]
        return (_together(parts, tuple(f"mixes[{m}].products[{p}].amount" for m, p in lines)),)

    def of_line(line: Line, surface: int) -> _Part:
        return amounts.product_rate(document, *line, unit)

    return _on_each(document, mix, lines, of_line, "products[{p}].amount")


def coverages(document: TreatmentDocument, mix: int, product: int, unit: str) -> tuple[Measured, ...]:
    """Finished mix per area of each surface, by all mixes that hold the product."""
    mixes = list(dict.fromkeys([m for m, _ in same_product(document, mix, product)]))
    if mixes == [mix]:
        return coverages_of_mix(document, mix, unit)
    return _on_each(
        document,
        mix,
        [(m, 0) for m in mixes],
        lambda line, surface: _coverage_of(document, line[0], surface, unit),
        "applied",
    )


def coverages_of_mix(document: TreatmentDocument, mix: int, unit: str) -> tuple[Measured, ...]:
    """Finished mix per area of each surface, by this mix alone."""
    found = amounts.coverage(document, mix, unit)
    return tuple([_together([amount], (path,)) for path, amount in found])


def on_surface(document: TreatmentDocument, lines: Sequence[Line], surface: int) -> list[Line]:
    """Those of the lines whose mix went on the surface."""
    return [line for line in lines if surface in treated_by(document, line[0]).surfaces]


def _on_each(
    document: TreatmentDocument,
    mix: int,
    lines: Sequence[Line],
    of_line: Callable[[Line, int], _Part],
    member: str,
) -> tuple[Measured, ...]:
    known = {m: treated_by(document, m) for m, _ in lines}
    lacks = tuple(path for treated in known.values() for path in treated.lacks)
    if lacks or not known[mix].surfaces:
        paths = lacks or (f"mixes[{mix}].surfaces",)
        return (Measured(None, paths, paths),)
    found = []
    for surface in known[mix].surfaces:
        here = on_surface(document, lines, surface)
        about = tuple(f"mixes[{m}].{member.format(p=p)}" for m, p in here)
        found.append(_together([of_line(line, surface) for line in here], about))
    return tuple(found)


def _coverage_of(document: TreatmentDocument, mix: int, surface: int, unit: str) -> _Part:
    """What one mix gave one surface: its own amounts there, else the mix's over all its surfaces."""
    found = amounts.coverage(document, mix, unit)
    several = (document.mixes or [])[mix].surfaces or []
    if not any(on.applied for on in several):
        return found[0][1]
    here = [
        amount
        for (_, amount), on in zip(found, several, strict=True)
        if on.surface and surface_named(document, on.surface) == surface
    ]
    unknown = [amount for amount in here if isinstance(amount, NoAmount)]
    known = [amount for amount in here if isinstance(amount, Amount)]
    if unknown or not known:
        return unknown[0] if unknown else missing([f"mixes[{mix}].surfaces"])
    first = known[0]
    return Amount(sum((one.exact for one in known), Fraction(0)), first.unit, first.wording, first.blanks)


def _together(parts: Sequence[_Part], about: Paths) -> Measured:
    known = [part for part in parts if isinstance(part, Amount)]
    if len(known) < len(parts):
        return unmeasured_sum([("", part) for part in parts if isinstance(part, NoAmount)])
    first, *others = known
    return Measured(Exact(sum((part.exact for part in others), first.exact), first.unit), about)


def _line(document: TreatmentDocument, mix: int, product: int) -> Product:
    return ((document.mixes or [])[mix].products or [])[product]


def _is_same(one: Product, other: Product) -> bool:
    """By registration number where both have one, else by id where both have one, else by name."""
    keys = registration_key(one.registration_number), registration_key(other.registration_number)
    if all(keys):
        return keys[0] == keys[1]
    if one.id is not None and other.id is not None:
        return one.id == other.id
    return bool(one.name and other.name) and folded(one.name or "") == folded(other.name or "")
