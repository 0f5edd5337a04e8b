"""The limits of a check as a crew needs them: what binds the whole treatment once, by the strictest. Pure."""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from shared.quantities import QuantityError, read

Json = Mapping[str, Any]

OF_THE_TREATMENT = frozenset(
    {
        *("wind_speed", "wind_speed_min", "gust", "temperature", "hours_dry_after", "reentry"),
        *("buffer", "well_distance", "sign_letters", "incident_told"),
    }
)
"""Four labels in one tank see the same wind: the strictest of them counts for all."""


def limits_once(limits: Iterable[Json]) -> list[Json]:
    """The stored limits without those of the whole treatment that a stricter one, or one as strict, stands for.
    What is only advised stands for nothing that is required."""
    kept: list[Json] = []
    for limit in limits:
        if any(_stands_for(other, limit) for other in kept):
            continue
        kept = [other for other in kept if not _stands_for(limit, other)] + [limit]
    return kept


def _stands_for(one: Json, other: Json) -> bool:
    if one["quantity"] != other["quantity"] or one["quantity"] not in OF_THE_TREATMENT:
        return False
    if one["level"] == "advised" and other["level"] != "advised":
        return False
    return all(_as_strict(one[side], other[side], side) for side in ("min", "max"))


def _as_strict(one: Any, other: Any, side: str) -> bool:
    if other is None:
        return True
    sizes = _base(one), _base(other)
    if sizes[0] is None or sizes[1] is None:
        return False
    return sizes[0] >= sizes[1] if side == "min" else sizes[0] <= sizes[1]


def _base(bound: Any) -> Fraction | None:
    """In the base unit of its dimension; None for none, and for one that is stored as text."""
    if not isinstance(bound, Mapping):
        return None
    try:
        return Fraction(read(dict(bound)).base)
    except QuantityError:
        return None
