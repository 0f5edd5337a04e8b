"""Tanks and who draws from them, as a ledger of the shelf has it. Pure.

A tank takes all of its product off the shelf on the day when it is filled, and a treatment what it drew from no
tank.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from records.shelf import USED, Entry, Size
from shared.quantities import Quantity, QuantityError
from shared.quantities import read as read_quantity

Json = Mapping[str, Any]
Meant = Callable[[Json], bool]
"""Whether a line of products is of the lot."""


@dataclass(frozen=True)
class Use:
    """What a treatment mixed, and what of that it drew from tanks, by their ids."""

    key: str
    day: date
    mixed: Sequence[Size]
    draws: Sequence[tuple[str, Size]] = ()


def in_tank(products: Iterable[Json], meant: Meant) -> Size | None:
    """How much of the lot went into a tank."""
    amounts = [amount for line in products if meant(line) and (amount := _read(line.get("amount")))]
    if not amounts:
        return None
    first = amounts[0].dimension
    return Size(first, sum((each.base for each in amounts if each.dimension == first), Fraction(0)))


def drawn(mixes: Iterable[Json], meant: Meant) -> Iterator[tuple[str, Size]]:
    """What the mixes of a treatment drew of the lot from each tank, by the volumes of their loads."""
    for mix in mixes:
        loads = mix.get("loads") or []
        volumes = [_volume(load, len(loads)) for load in loads]
        whole = sum(volumes, Fraction(0))
        for line in mix.get("products") or []:
            amount = _read(line.get("amount")) if meant(line) else None
            if not amount or not whole:
                continue
            for load, volume in zip(loads, volumes, strict=True):
                if load.get("batch"):
                    yield str(load["batch"]), Size(amount.dimension, amount.base * volume / whole)


def settled(uses: Iterable[Use], tanks: Mapping[str, Size]) -> Iterator[Entry]:
    """What each took off the shelf: not what was in the tank that it drew from. What is drawn and not mixed yet
    goes back."""
    left = {key: size.base for key, size in tanks.items()}
    for use in sorted(uses, key=lambda each: each.day):
        taken = {size.dimension: size.base for size in use.mixed}
        for tank, size in use.draws:
            if tank in tanks and tanks[tank].dimension == size.dimension:
                of_tank = min(size.base, left[tank])
                left[tank] -= of_tank
                taken[size.dimension] = taken.get(size.dimension, Fraction(0)) - of_tank
        for dimension, base in taken.items():
            yield Entry(USED, use.day, Size(dimension, base), use.key)


def _volume(load: Json, loads: int) -> Fraction:
    volume = _read(load.get("volume"))
    return volume.base if volume else Fraction(1 if loads == 1 else 0)


def _read(value: Any) -> Quantity | None:
    try:
        return read_quantity(value) if value else None
    except QuantityError:
        return None
