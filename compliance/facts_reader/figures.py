"""Figures of one document that must go together, two by two: what was stated, and what it is set against.

A pair is left out where one of the two is not stated, or where a volume would meet a weight.
"""

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from functools import lru_cache

from compliance.rulebook.facts import Paths
from compliance.rulebook.sizes import Exact, Measured
from records.document import amounts
from records.document.computed import NoAmount
from records.document.context import Context
from records.document.types import LeftOver, Mix, Surface, TreatmentDocument
from shared.geometry import slope_factor
from shared.quantities import UNITS, Quantity, quotient

Pair = tuple[Measured, Measured] | tuple[()]
Stated = tuple[Exact | None, Paths]
FLAT = ("walk", "drive", "patio", "deck", "lawn")
"""Surfaces whose plan area is their area, where no pitch is stated."""

_PITCHES_AT_HAND = 100


def loads(document: TreatmentDocument, mix: int) -> Stated:
    """The loads together."""
    return _sum([load.volume for load in _mix(document, mix).loads or []]), (f"mixes[{mix}].loads",)


def applied_and_left_over(document: TreatmentDocument, mix: int) -> Stated:
    """Applied and left over together. What was left over and sprayed on a surface is counted in what was
    applied."""
    parts = _mix(document, mix)
    left, path = parts.left_over, f"mixes[{mix}]"
    if left is None:
        return None, ()
    if left.surface or _nothing_left(left):
        return applied(document, mix)
    return _sum([parts.applied, left.amount]), (f"{path}.applied", f"{path}.left_over.amount")


def applied(document: TreatmentDocument, mix: int) -> Stated:
    """What was applied."""
    return _sum([_mix(document, mix).applied]), (f"mixes[{mix}].applied",)


AGAINST_MIXED: Mapping[str, Callable[[TreatmentDocument, int], Stated]] = {
    "loads-and-mixed": loads,
    "applied-and-left-over": applied_and_left_over,
    "applied-within-mixed": applied,
}
"""What is set against all that was mixed."""


def mixed(document: TreatmentDocument, mix: int) -> Exact | None:
    """All that was mixed; None where it can't be worked out."""
    whole = amounts.mixed(document, mix)
    return None if isinstance(whole, NoAmount) else Exact(whole.exact, whole.unit)


def against_mixed(stated: Stated, whole: Exact | None, mix: int) -> Pair:
    """What was stated, against all that was mixed."""
    return _pair(stated[0], whole, stated[1], (f"mixes[{mix}].products", f"mixes[{mix}].diluent"))


def surfaces_and_applied(document: TreatmentDocument, mix: int) -> Pair:
    """The amounts on the surfaces together, against what was applied."""
    parts, path = _mix(document, mix), f"mixes[{mix}]"
    on_each = _sum([one.applied for one in parts.surfaces or []])
    return _pair(on_each, _sum([parts.applied]), (f"{path}.surfaces",), (f"{path}.applied",))


def time_and_flow(document: TreatmentDocument, mix: int, worked: Exact | None) -> Pair:
    """The time that the rig needs at its flow for what was applied, against the time that was worked.
    An estimate: between strokes nothing flows."""
    parts = _mix(document, mix)
    rigs = [
        rig
        for rig in document.equipment or []
        if parts.equipment is None or parts.equipment in (rig.id, rig.name)
    ]
    flow = rigs[0].flow if len(rigs) == 1 else None
    if (
        not flow
        or not flow.base
        or not parts.applied
        or parts.applied.dimension != "volume"
        or worked is None
    ):
        return ()
    needed = Exact(quotient(parts.applied, flow, "min"), "min")
    return _pair(needed, worked, (f"mixes[{mix}].applied",), ("timing.finished_at", "timing.started_at"))


def area_within_slope(document: TreatmentDocument, surface: int) -> Pair:
    """The treated area, against plan area x slope factor."""
    one, path = (document.surfaces or [])[surface], f"surfaces[{surface}]"
    whole = _whole_area(one)
    return _pair(_sum([one.treated_area]), whole, (f"{path}.treated_area",), (f"{path}.plan_area",))


def stock_and_mixed(document: TreatmentDocument, context: Context, mix: int, product: int) -> Pair:
    """The product in the mix, against what there is of its lot."""
    line, path = (_mix(document, mix).products or [])[product], f"mixes[{mix}].products[{product}].amount"
    for number, stock in enumerate(context.stock or []):
        if stock.lot is not None and stock.lot == line.lot:
            about = (f"context.stock[{number}].on_hand",)
            return _pair(_sum([line.amount]), _sum([stock.on_hand]), (path,), about)
    return ()


def _mix(document: TreatmentDocument, mix: int) -> Mix:
    return (document.mixes or [])[mix]


def _nothing_left(left: LeftOver) -> bool:
    return left.disposition == "none" and left.amount is None


def _sum(parts: Iterable[Quantity | None]) -> Exact | None:
    """The parts together, in the first one's unit; None if one is not stated or they can't be added."""
    total: Fraction | None = None
    unit = ""
    for part in parts:
        if part is None or (unit and part.dimension != UNITS[unit].dimension):
            return None
        total = part.exact if total is None else total + part.to(unit)
        unit = unit or part.unit
    return None if total is None else Exact(total, unit)


def _pair(stated: Exact | None, whole: Exact | None, about: Paths, against: Paths) -> Pair:
    """Both in the unit of the whole."""
    if stated is None or whole is None:
        return ()
    if stated.unit != whole.unit:
        if stated.dimension != whole.dimension:
            return ()
        stated = Exact(stated.base / UNITS[whole.unit].factor, whole.unit)
    return Measured(stated, about), Measured(whole, against)


def _whole_area(surface: Surface) -> Exact | None:
    plan, pitch = surface.plan_area, surface.pitch
    if plan is None:
        return None
    if pitch is None or pitch.rise is None or pitch.run is None:
        return Exact(plan.exact, plan.unit) if surface.kind in FLAT else None
    factor = _slope_factor(pitch.rise, pitch.run)
    return Exact(plan.exact * factor, plan.unit) if factor else None


@lru_cache(maxsize=_PITCHES_AT_HAND)
def _slope_factor(rise: str, run: str) -> Fraction | None:
    """The slope factor of a pitch as stated; None of one that no roof has."""
    up, along = Fraction(rise), Fraction(run)
    return slope_factor(up, along) if up >= 0 and along > 0 else None
