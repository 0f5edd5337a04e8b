"""How much was mixed and how it was spread, in the round figures that a tank gauge or a scale gives."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from project.demo.visits import Visit

Json = dict[str, Any]
Areas = dict[str, Decimal]
FLUID_OUNCES_IN_A_GALLON = 128
TOO_STRONG = Decimal("1.4")


@dataclass(frozen=True)
class Amounts:
    """`products` in the order of the plan's; `mix` holds loads, applied, left_over and surfaces."""

    products: list[Json]
    diluent: Json | None
    mix: Json


def quantity(value: Decimal | int | str, unit: str) -> Json:
    text = f"{Decimal(value):f}"
    return {"value": text.rstrip("0").rstrip(".") if "." in text else text, "unit": unit}


def rounded(value: Decimal, step: str) -> Decimal:
    """To the nearest `step`, and never to nothing."""
    size = Decimal(step)
    return max(size, (value / size).quantize(Decimal(1), ROUND_HALF_UP) * size)


def amounts_of(visit: Visit, lines: list[Json], areas: Areas, tank: Decimal, too_strong: bool) -> Amounts:
    """What a visit used; `lines` are its products' ordinary ways; areas in square feet, tank in gallons."""
    ordinary, area, turn = lines[0], sum(areas.values(), Decimal(0)), visit.way
    if ordinary["form"] == "dry":
        applied = rounded(Decimal(ordinary["rates"][turn % 3]) * area / 1000, "0.1")
        mix = spent(applied, Decimal(0), "lb", areas, "0.05")
        mix["loads"] = [{"volume": quantity(applied, "lb")}]
        return Amounts([quantity(applied, "lb")], None, mix)
    step, fine = ("0.1", "0.01") if visit.small else ("0.5", "0.1")
    coverage = Decimal(ordinary["coverages"][turn % len(ordinary["coverages"])])
    applied = rounded(coverage * area / (1000 if ordinary["unit"] == "fl_oz" else 100), step)
    left = Decimal(step) * visit.chance("left over").choice((0, 0, 1, 2))
    mixed = applied + left
    mix = spent(applied, left, "gal", areas, fine)
    mix["loads"] = [{"volume": quantity(load, "gal")} for load in loads(mixed, tank)]
    if ordinary["form"] == "ready-to-use":
        return Amounts([quantity(mixed, "gal")], None, mix)
    strengths = [Decimal(line["strengths"][turn % len(line["strengths"])]) for line in lines]
    strengths[0] *= TOO_STRONG if too_strong else 1
    parts = [concentrate(mixed, each, line["unit"]) for each, line in zip(strengths, lines, strict=True)]
    water = mixed - sum(gallons for _, gallons in parts)
    return Amounts([product for product, _ in parts], quantity(water, "gal"), mix)


def concentrate(mixed: Decimal, strength: Decimal, unit: str) -> tuple[Json, Decimal]:
    """The product in `mixed` gallons, by percent (`gal`) or per gallon (`fl_oz`), and its own gallons."""
    if unit == "gal":
        gallons = mixed * strength / 100
        return quantity(gallons, "gal"), gallons
    ounces = mixed * strength
    return quantity(ounces, "fl_oz"), ounces / FLUID_OUNCES_IN_A_GALLON


def loads(mixed: Decimal, tank: Decimal) -> list[Decimal]:
    full, last = divmod(mixed, tank)
    return [tank] * int(full) + ([last] if last else [])


def spent(applied: Decimal, left: Decimal, unit: str, areas: Areas, step: str) -> Json:
    """What became of the mix; `applied` is shared out by area; the last surface takes the rounding."""
    shares = [rounded(applied * area / sum(areas.values()), step) for area in areas.values()]
    shares[-1] = applied - sum(shares[:-1])
    disposition = "kept-labelled-for-next-treatment" if left else "none"
    return {
        "applied": quantity(applied, unit),
        "left_over": {"amount": quantity(left, unit), "disposition": disposition},
        "surfaces": [
            {"surface": name, "applied": quantity(share, unit)}
            for name, share in zip(areas, shares, strict=True)
        ],
    }
