"""The amounts that a document's numbers give: mixed, product applied, areas, coverage, strength.

Product applied = amount x `applied` / mixed, where mixed is what went into the mix drawn for this treatment:
it is what laws call the total amount applied. All is exact; rounding is for display only. Mixes, products and
surfaces are named by their index in the document, so that what is missing can be named by its path.
"""

from fractions import Fraction

from records.document.areas import area_of, surface_named, total_area
from records.document.computed import Amount, NoAmount, Sum, do_not_meet, missing
from records.document.types import MixOnSurface, Product, TreatmentDocument
from shared.quantities import UNITS, Quantity, quotient
from shared.wording import Wording

__all__ = [
    "coverage", "mixed", "product_applied", "product_rate", "strength",
    "surface_named", "total_area",
]  # fmt: skip

_USUAL = {
    ("volume", True): "L/(100 m**2)",
    ("volume", False): "gal/(100 ft**2)",
    ("mass", True): "g/m**2",
    ("mass", False): "lb/(1000 ft**2)",
}
"""The trade's usual unit of an amount per area; whether the area is metric decides."""
_PER_VOLUME = {"volume_per_volume": ("mL", "L"), "mass_per_volume": ("g", "L")}


def mixed(document: TreatmentDocument, mix: int) -> Amount | NoAmount:
    """What went into the mix, products and diluent together, in the diluent's unit (or the first product's).

    A weighed product adds its volume by its density; without a density it is dry and its volume is left out.
    A mix without a diluent must say by its `form` that it needs none (ready to use, dry).
    """
    path, parts = f"mixes[{mix}]", (document.mixes or [])[mix]
    products = parts.products or []
    diluent = parts.diluent.amount if parts.diluent else None
    not_there = [f"{path}.products[{n}].amount" for n, product in enumerate(products) if not product.amount]
    if not products:
        not_there.append(f"{path}.products")
    if not diluent and (parts.diluent or parts.form not in ("ready-to-use", "dry")):
        not_there.append(f"{path}.diluent.amount")
    if not_there:
        return missing(not_there)
    amounts = [(product, product.amount) for product in products if product.amount]
    return _sum_of_mix(path, amounts, diluent)


def _sum_of_mix(
    path: str, amounts: list[tuple[Product, Quantity]], diluent: Quantity | None
) -> Amount | NoAmount:
    unit = diluent.unit if diluent else amounts[0][1].unit
    total = diluent.exact if diluent else Fraction(0)
    counted, wording = [], "amount/sum"
    for number, (product, amount) in enumerate(amounts):
        part = _in_unit(product, amount, unit)
        if part is not None:
            total += part
            counted.append(amount)
        elif amount.dimension == "mass":
            wording = "amount/sum_without_dry"
        else:
            return do_not_meet(f"{path}.products[{number}].amount", amount, amounts[0][1])
    if not total:
        return NoAmount((path,), "amount/nothing_mixed", {})
    said = (*counted, diluent) if diluent else tuple(counted)
    return Amount(total, unit, wording, {"parts": Sum(said)})


def _in_unit(product: Product, amount: Quantity, unit: str) -> Fraction | None:
    """The product's amount in a unit of volume or mass, by its density where the two differ."""
    target = UNITS[unit]
    if amount.dimension == target.dimension:
        return amount.to(unit)
    if not product.density or not product.density.exact:
        return None
    kg_per_litre = product.density.base
    base = amount.base * kg_per_litre if target.dimension == "mass" else amount.base / kg_per_litre
    return base / target.factor


def product_applied(document: TreatmentDocument, mix: int, product: int) -> Amount | NoAmount:
    """How much of the product was applied, in the unit of its amount: amount x applied / mixed."""
    path, parts = f"mixes[{mix}]", (document.mixes or [])[mix]
    amount, applied = (parts.products or [])[product].amount, parts.applied
    if not applied or not amount:
        return missing([f"{path}.products[{product}].amount" if applied else f"{path}.applied"])
    whole = mixed(document, mix)
    if isinstance(whole, NoAmount):
        return whole
    if applied.dimension != whole.dimension:
        return do_not_meet(f"{path}.applied", applied, whole)
    (above, below), (over, by) = applied.base_ratio, whole.base_ratio
    exact = amount.exact * Fraction(above * by, below * over)
    return Amount(
        exact, amount.unit, "amount/share_of_applied", {"amount": amount, "applied": applied, "mixed": whole}
    )


def strength(document: TreatmentDocument, mix: int, product: int, unit: str = "percent") -> Amount | NoAmount:
    """The product's amount over products and diluent together, in a unit of share or of product per volume.

    A share is by volume (by weight in a dry mix): where weight and volume meet in it, there is no amount.
    """
    path, line = f"mixes[{mix}].products[{product}]", ((document.mixes or [])[mix].products or [])[product]
    if not line.amount:
        return missing([f"{path}.amount"])
    whole = mixed(document, mix)
    if isinstance(whole, NoAmount):
        return whole
    wanted = _PER_VOLUME.get(UNITS[unit].dimension)
    if wanted is None:
        if line.amount.dimension != whole.dimension:
            return do_not_meet(f"{path}.amount", line.amount, whole)
        exact = quotient(line.amount, whole, unit, times=100)
    else:
        part = _in_unit(line, line.amount, wanted[0])
        if part is None or whole.dimension != "volume":
            return do_not_meet(f"{path}.amount", line.amount, whole)
        exact = part / whole.base / UNITS[unit].factor
    return Amount(exact, unit, "amount/strength", {"amount": line.amount, "mixed": whole})


def coverage(
    document: TreatmentDocument, mix: int, unit: str | None = None
) -> list[tuple[str, Amount | NoAmount]]:
    """Finished mix per area, each with the path of what was applied.

    For each surface of the mix its own `applied` over its treated area; where none has its own, the mix's
    `applied` over the sum of the areas.
    """
    several = (document.mixes or [])[mix].surfaces or []
    if any(on.applied for on in several):
        path = f"mixes[{mix}].surfaces"
        return [_on_one(document, f"{path}[{n}].applied", on, unit) for n, on in enumerate(several)]
    path, applied = f"mixes[{mix}].applied", (document.mixes or [])[mix].applied
    if not applied:
        return [(path, missing([path]))]
    return [(path, _per_area(path, applied, total_area(document, mix), unit))]


def _on_one(
    document: TreatmentDocument, path: str, on: MixOnSurface, unit: str | None
) -> tuple[str, Amount | NoAmount]:
    if not on.applied:
        return path, missing([path])
    return path, _per_area(path, on.applied, area_of(document, path, on.surface), unit)


def product_rate(
    document: TreatmentDocument, mix: int, product: int, unit: str | None = None
) -> Amount | NoAmount:
    """Product applied over the area of the mix's surfaces."""
    applied = product_applied(document, mix, product)
    if isinstance(applied, NoAmount):
        return applied
    path = f"mixes[{mix}].products[{product}].amount"
    return _per_area(path, applied, total_area(document, mix), unit)


def _per_area(
    path: str, amount: Quantity | Amount, area: Amount | NoAmount, unit: str | None
) -> Amount | NoAmount:
    """A volume or weight over an area, in `unit` or the trade's usual one for the area's own unit."""
    if isinstance(area, NoAmount):
        return area
    unit = unit or _USUAL[amount.dimension, area.unit in ("m**2", "ha")]
    if (UNITS[unit].dimension == "mass_per_area") != (amount.dimension == "mass"):
        return do_not_meet(path, amount, Wording(UNITS[unit].label_en, UNITS[unit].label_es))
    exact = quotient(amount, area, unit, times=1000 if amount.dimension == "mass" else 1)
    return Amount(exact, unit, "amount/per_area", {"amount": amount, "area": area})
