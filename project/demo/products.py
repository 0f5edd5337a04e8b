"""The firm's products with their label versions and lots."""

from typing import Any

from project.demo.saving import plain, saved
from records.models import Firm, LabelVersion, Lot, Product
from shared.quantities import parse

LABEL_FACTS = ("registration_number", "signal_word", "active_ingredients")


def make_product(firm: Firm, data: dict[str, Any]) -> Product:
    product = saved(
        Product(
            firm=firm,
            name=data["name"],
            kind=data["kind"],
            regime=data["regime"],
            supplier=data["supplier"],
        )
    )
    for label in data["labels"]:
        row = make_label(firm, product, data, label)
        for lot in data["lots"]:
            if lot["label"] == label["version"]:
                received = {"received_on": lot["received"], "amount": parse(lot["amount"])}
                saved(Lot(firm=firm, label=row, number=lot["number"], **received))
    return product


def make_label(firm: Firm, product: Product, data: dict[str, Any], label: dict[str, Any]) -> LabelVersion:
    density = data.get("density")
    said = {name: plain(label[name]) for name in ("kind", "targets", "not_on", "sites", "ppe", "protection")}
    limits = limits_of(label["limits"])
    return saved(
        LabelVersion(
            firm=firm,
            product=product,
            version=label["version"],
            valid_from=label["valid_from"],
            valid_to=label.get("valid_to"),
            restricted_use=data["restricted_use"] == "true",
            density=parse(density) if density else None,
            label={**said, "limits": limits, "statements": plain(label["statements"])},
            **{name: plain(data[name]) for name in LABEL_FACTS if name in data},
        )
    )


def limits_of(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [{name: bound(name, text) for name, text in limit.items()} for limit in rows]


def bound(name: str, text: str) -> Any:
    """A limit's `min` or `max` as the document holds it: a quantity, or a count as text."""
    return str(text) if name == "of" or text.isdigit() else parse(text).as_json()
