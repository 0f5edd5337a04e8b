"""A tank that was filled before, and what drawing from it puts into a mix. Pure.

A mix holds what was drawn for its own treatment: of each product its share, so that draws and left-over add up.
"""

import uuid
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from records.document import amounts
from records.document.computed import NoAmount
from records.document.reader import read
from shared.quantities import Quantity, QuantityError, from_base, of_dimension
from shared.quantities import read as read_quantity

Json = Mapping[str, Any]
KEPT = "kept-labelled-for-next-treatment"
_OF_THE_MIX = ("form", "mixed_at_place")
TAKEN = ("products", "diluent", *_OF_THE_MIX)
"""What of its mix goes into one that is drawn."""
_IDS = uuid.UUID("3f6c2b0e-5d0a-4f0e-8a9c-6a1f2b7d9c44")


@dataclass(frozen=True)
class FilledTank:
    """`mix` is what it was filled with (products, diluent, form, place, rig); `whole` all of it, `left` what
    should be in it now, `beyond` how much more was drawn than was in it. `load` says where a draw comes from,
    `key` names the tank on a form."""

    key: str
    day: date
    at: str
    mix: Json
    whole: Quantity
    left: Quantity
    load: Json
    beyond: Quantity | None = None

    @property
    def is_left_over(self) -> bool:
        return "from_record" in self.load

    @property
    def rig(self) -> str:
        return str(self.mix.get("equipment") or "")


def left_overs(document: Json, day: date) -> Iterator[FilledTank]:
    """What was left over in the mixes of a treatment and kept for the next one."""
    typed, record = read(document), document["record"]
    for number, mix in enumerate(document.get("mixes") or []):
        left, made = mix.get("left_over") or {}, amounts.mixed(typed, number)
        if left.get("disposition") != KEPT or isinstance(made, NoAmount) or not record.get("number"):
            continue
        try:
            rest = of_dimension(read_quantity(left.get("amount")), "volume")
            whole = of_dimension(made.quantity, "volume")
        except QuantityError:
            continue
        timing = document.get("timing") or {}
        at = timing.get("finished_at") or timing.get("started_at") or timing.get("planned_at") or ""
        key = f"{record.get('id')}.{mix.get('id') or number}"
        yield FilledTank(key, day, at, _stated(mix, document), whole, rest, {"from_record": record["number"]})


def drawn_before(tank: FilledTank, document: Json) -> Fraction:
    """How much of it the mixes of a document have drawn, in the base unit."""
    names = _names(tank.mix)
    mixes = [mix for mix in document.get("mixes") or [] if _names(mix) == names]
    loads = (load for mix in mixes for load in mix.get("loads") or [])
    return sum(
        (read_quantity(load["volume"]).base for load in loads if load.get("volume") and _is_of(load, tank)),
        Fraction(0),
    )


def drawn(tank: FilledTank, amount: Quantity, path: str, mix: Json, rigs: list[str]) -> dict[str, Any]:
    """By path, what the mix at `path` holds once `amount` was drawn for it, in place of what was planned."""
    lines = {line["id"]: line for line in _lines(tank, amount)}
    planned = [line.get("id") or str(at) for at, line in enumerate(mix.get("products") or [])]
    return {
        **{f"{path}.products[{line}]": None for line in reversed(planned) if line not in lines},
        **{f"{path}.products[{line}]": value for line, value in lines.items()},
        f"{path}.diluent": _diluent(tank, amount),
        f"{path}.loads": [{"volume": amount.as_json(), **tank.load}],
        **{f"{path}.{name}": tank.mix[name] for name in _OF_THE_MIX if tank.mix.get(name)},
        **({f"{path}.equipment": tank.rig} if tank.rig in rigs else {}),
    }


def as_mix(tank: FilledTank, treatment: str, surfaces: list[str], rigs: list[str]) -> dict[str, Any]:
    """All that is left in the tank as a mix of its own, on these surfaces; its id follows from both."""
    parts = drawn(tank, tank.left, "", {}, rigs)
    members = {name.removeprefix("."): value for name, value in parts.items() if "[" not in name}
    members["products"] = list(_lines(tank, tank.left))
    members["surfaces"] = [{"surface": name} for name in surfaces]
    mix_id = str(uuid.uuid5(_IDS, f"{treatment}:{tank.key}"))
    return {"id": mix_id, **{name: value for name, value in members.items() if value not in (None, [])}}


def with_ids(products: list[Json], key: str) -> list[Json]:
    """The lines, each with an id."""
    return [{**line, "id": line.get("id") or _id_of(key, line)} for line in products]


def _id_of(key: str, line: Json) -> str:
    return str(uuid.uuid5(_IDS, f"{key}:{line.get('name')}"))


def _lines(tank: FilledTank, amount: Quantity) -> Iterator[dict[str, Any]]:
    for line in tank.mix.get("products") or []:
        yield {**line, "amount": _share(line["amount"], tank, amount)}


def _diluent(tank: FilledTank, amount: Quantity) -> dict[str, Any] | None:
    diluent = tank.mix.get("diluent") or {}
    return {**diluent, "amount": _share(diluent["amount"], tank, amount)} if diluent.get("amount") else None


def _share(part: Any, tank: FilledTank, amount: Quantity) -> dict[str, str]:
    whole = read_quantity(part)
    return from_base(whole.base * amount.base / tank.whole.base, whole.unit).as_json()


def _is_of(load: Json, tank: FilledTank) -> bool:
    return all(load.get(name) == value for name, value in tank.load.items())


def _names(mix: Json) -> list[str]:
    return sorted(str(line.get("name")) for line in mix.get("products") or [])


def _stated(mix: Json, document: Json) -> Json:
    """The mix, each line with an id, and with the name of its rig: the only one where it names none."""
    rigs = [rig.get("name") for rig in document.get("equipment") or []]
    lines = with_ids(mix.get("products") or [], str(document["record"].get("id")))
    rig = mix.get("equipment") or (rigs[0] if len(rigs) == 1 else None)
    return {**mix, "products": lines, "equipment": rig}
