"""What was applied and what was left over: each follows from the other and from what was mixed."""

from collections.abc import Mapping
from typing import Any

from records.forms.plain_paths import value_at
from shared.quantities import Quantity, QuantityError, from_base, of_dimension, read

Json = Mapping[str, Any]


def applied_of(_document: Json, mix: Json) -> dict[str, str] | None:
    """All that was mixed, without what is left over; None while an amount is unknown or no volume."""
    return _without(mix, "left_over.amount", if_unknown=True)


def nothing_left(mix: Json) -> dict[str, str]:
    """What follows where all that was mixed is taken as applied, and nothing is said yet of what was left."""
    return {} if mix.get("left_over") else {"left_over.disposition": "none"}


def left_over_of(_document: Json, mix: Json) -> dict[str, str] | None:
    """All that was mixed, without what was applied; None while an amount is unknown or no volume."""
    return _without(mix, "applied", if_unknown=False)


def _without(mix: Json, member: str, if_unknown: bool) -> dict[str, str] | None:
    try:
        mixed, other = _mixed(mix), value_at(mix, member)
        if not mixed or (other is None and not if_unknown):
            return None
        rest = sum(each.base for each in mixed) - (_volume(other).base if other else 0)
        return from_base(rest, mixed[-1].unit).as_json() if rest >= 0 else None
    except QuantityError:
        return None


def _mixed(mix: Json) -> list[Quantity]:
    """The loads, where they are known, else the products and what they were put into."""
    loads = [load.get("volume") for load in mix.get("loads") or []]
    parts = [product.get("amount") for product in mix.get("products") or []]
    amounts = loads or [*parts, value_at(mix, "diluent.amount")]
    return [_volume(amount) for amount in amounts] if all(amounts) else []


def _volume(amount: Any) -> Quantity:
    return of_dimension(read(amount), "volume")
