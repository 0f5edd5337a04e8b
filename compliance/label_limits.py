"""A limit of a label: when it is due, at which level its bounds stand, and what is wanting of it. Pure."""

from collections.abc import Iterator, Sequence

from compliance.rulebook.bounds import Bounds
from compliance.rulebook.sizes import Size
from records.document.types import Limit
from shared.quantities import Quantity

ADVISED_MINIMUM = ("coverage", "dilution", "product_rate")
STAGES = {
    "wind_speed": "during",
    "gust": "during",
    "temperature": "during",
    "hours_dry_after": "before",
    "days_between": "before",
    "buffer": "before",
}


def levels(limit: Limit, bounds: Bounds) -> Iterator[tuple[str, str, Bounds]]:
    """A minimum rate is advised: less than the label's rate is allowed unless the label forbids it
    (7 U.S.C. 136(ee), from memory)."""
    if limit.of not in ADVISED_MINIMUM:
        yield "", "required", bounds
        return
    if bounds.max is not None:
        yield "", "required", Bounds(max=bounds.max)
    if bounds.min is not None:
        yield "_min", "advised", Bounds(min=bounds.min)


def wind_without_gusts(limits: Sequence[Limit]) -> Size | None:
    """The most that a label allows for the wind, if it bounds no gusts."""
    if any(limit.of == "gust" for limit in limits):
        return None
    return next((size_of(limit.max) for limit in limits if limit.of == "wind_speed" and limit.max), None)


def size_of(bound: Quantity | str | None) -> Size | None:
    """A stated bound as the rulebook compares it: a quantity, or a count."""
    return int(bound) if isinstance(bound, str) else bound


def wanting(limit: Limit) -> tuple[str, ...]:
    """The members that a limit lacks without which it bounds nothing."""
    if limit.of is None:
        return ("of",)
    return ("max", "min") if limit.max is None and limit.min is None else ()
