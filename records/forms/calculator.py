"""The mixing calculator within a mix: begun from what the document knows, and its result put into the mix."""

from collections.abc import Mapping
from typing import Any

from records.document.edits import Edit
from records.forms.bound import Item, slug_of
from records.forms.mix import MixForm
from records.forms.plain_paths import value_at
from records.forms.posted import Posted
from shared.quantities import Quantity, QuantityError, from_base, read

Json = Mapping[str, Any]


def prefix_of(mix_path: str) -> str:
    return f"calc-{slug_of(mix_path)}"


def calculator(item: Item, document: Json, data: Any = None) -> MixForm:
    """The form of one mix; with `data`, worked out from what was typed if its button was pressed."""
    prefix = prefix_of(item.path)
    pressed = data is not None and item.path in (data.get("calculate"), data.get("use"))
    return MixForm(data if pressed else None, prefix=prefix, initial=_known(item, document))


def _known(item: Item, document: Json) -> dict[str, Any]:
    mix = document["mixes"][int(item.place.removeprefix("mixes[").removesuffix("]"))]
    rig = next(
        (rig for rig in document.get("equipment") or [] if rig.get("name") == mix.get("equipment")), {}
    )
    known = {
        "area": _total_area(document),
        "coverage": _most_coverage(mix),
        "tank": _quantity(rig.get("tank")),
        "flow": _quantity(rig.get("flow")),
        "density": next((_quantity(product.get("density")) for product in mix.get("products") or []), None),
    }
    return {name: quantity for name, quantity in known.items() if quantity}


def _total_area(document: Json) -> Quantity | None:
    areas = [_quantity(surface.get("treated_area")) for surface in document.get("surfaces") or []]
    measured = [area for area in areas if area]
    return from_base(sum(area.base for area in measured), measured[0].unit) if measured else None


def _most_coverage(mix: Json) -> Quantity | None:
    """The most finished mix per area that a label in the mix allows."""
    for product in mix.get("products") or []:
        for limit in value_at(product, "label.limits") or []:
            quantity = _quantity(limit.get("max")) if limit.get("of") == "coverage" else None
            if quantity and quantity.dimension == "volume_per_area":
                return quantity
    return None


def _quantity(value: Any) -> Quantity | None:
    try:
        return read(value) if value else None
    except QuantityError:
        return None


def use(posted: Posted, item: Item, document: Json) -> list[Edit]:
    """The edits that put a worked-out mix into the document: product, water and tank loads."""
    form = calculator(item, document, posted.data)
    if not form.is_valid() or form.plan is None:
        return []
    plan, values = form.plan, {}
    products = value_at(document, "mixes")[int(item.place[6:-1])].get("products") or []
    if products:
        first = products[0].get("id") or 0
        values[f"{item.path}.products[{first}].amount"] = plan.product.as_json()
    values[f"{item.path}.diluent"] = {"name": "water", "amount": plan.diluent.as_json()}
    if plan.loads:
        values[f"{item.path}.loads"] = [{"volume": load.volume.as_json()} for load in plan.loads]
    return [posted.edit(path, value) for path, value in values.items()]
