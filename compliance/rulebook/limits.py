"""The limits in force: of each quantity of each thing the strictest over all layers."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from compliance.rulebook.bounds import order
from compliance.rulebook.evaluate import InForce, Judged
from compliance.rulebook.finding import seen_as_json
from compliance.rulebook.sizes import Size
from shared.values import value

Thing = tuple[str, tuple[str, str]]
"""What a limit binds: the path of the thing, and the quantity with its dimension."""


@value
class LimitInForce:
    """The strictest bound on one side of a quantity of one thing, with the rule that sets it: at which level,
    and whether its text was read (`found`), read as restated, or is from memory."""

    quantity: str
    subject: str
    min: Size | None
    max: Size | None
    layer: str
    rule: str
    cite: str
    level: str
    text: str

    def as_json(self) -> dict[str, Any]:
        """The limit as the command prints it."""
        return {
            "quantity": self.quantity,
            "for": self.subject or None,
            "min": seen_as_json(self.min),
            "max": seen_as_json(self.max),
            "set_by": {"layer": self.layer, "rule": self.rule, "cite": self.cite},
            "level": self.level,
            "text": self.text,
        }


@value
class Bound:
    """One end of a limit. `kind` is what it may be compared with: the quantity and its dimension."""

    limit: InForce
    side: str
    size: Size
    kind: tuple[str, str]

    @property
    def sureness(self) -> int:
        """How surely it binds: a required text that was read before one from memory, before advice."""
        basis = self.limit.basis
        return self.binds * 2 + (basis.text != "memory" and basis.doubt is None)

    @property
    def binds(self) -> bool:
        """Whether its rule is required."""
        return self.limit.basis.level == "required"

    def stricter_than(self, other: "Bound") -> bool:
        sign = order(self.size, other.size)
        return sign < 0 if self.side == "max" else sign > 0

    def comes_before(self, other: "Bound") -> bool:
        """Stricter, or as strict and surer: at a tie the layer that surely binds is named."""
        tie = order(self.size, other.size) == 0
        return self.stricter_than(other) or (tie and self.sureness > other.sureness)


Sides = dict[str, Bound]


@dataclass(frozen=True)
class Strictest:
    """The strictest bound on each side, for each quantity of each thing in order: of all layers, and of the
    rules that are required alone."""

    of_all: Mapping[Thing, Sides]
    required: Mapping[Thing, Sides]

    def both(self) -> Iterator[tuple[Thing, Sides, Sides]]:
        """Each thing with both."""
        for thing, sides in self.of_all.items():
            yield thing, sides, self.required.get(thing, {})


def limits_in_force(strictest: Strictest) -> list[LimitInForce]:
    """The strictest bounds over all layers, for each quantity of each thing; behind one that is only advised
    the strictest that is required. What binds the whole treatment binds each of its products, too."""
    found = []
    for thing, sides, required in strictest.both():
        found += _stated(thing, sides)
        behind = {side: bound for side, bound in required.items() if not sides[side].binds}
        found += _stated(thing, behind) if behind else ()
    return found


def sides_of(limit: InForce) -> list[Bound]:
    return [Bound(limit, *end) for end in limit.limited.sides]


def strictest_of(judged: Judged) -> Strictest:
    """Where a product has a limit of its own, what binds the whole treatment is set against it, and stands for
    every other product."""
    of_products = any(limit.subject in judged.products for limit in judged.limits)
    everywhere = judged.products if of_products else ("",)
    of_all: dict[Thing, Sides] = {}
    required: dict[Thing, Sides] = {}
    for limit in judged.limits:
        for bound in sides_of(limit):
            for subject in (limit.subject,) if limit.subject else everywhere:
                thing = (subject, bound.kind)
                _keep_stricter(of_all.setdefault(thing, {}), bound)
                if bound.binds:
                    _keep_stricter(required.setdefault(thing, {}), bound)
    return Strictest(dict(sorted(of_all.items(), key=lambda one: one[0])), required)


def _keep_stricter(sides: Sides, bound: Bound) -> None:
    if bound.side not in sides or bound.comes_before(sides[bound.side]):
        sides[bound.side] = bound


def _stated(thing: Thing, sides: Mapping[str, Bound]) -> list[LimitInForce]:
    """Both sides of one rule together, those of two rules apart."""
    subject, (quantity, _dimension) = thing
    least, most = sides.get("min"), sides.get("max")
    if least and most and least.limit is most.limit:
        return [_in_force(subject, quantity, least, most, most)]
    found = [_in_force(subject, quantity, least, None, least)] if least else []
    return [*found, *([_in_force(subject, quantity, None, most, most)] if most else [])]


def _in_force(
    subject: str, quantity: str, least: Bound | None, most: Bound | None, setter: Bound
) -> LimitInForce:
    basis = setter.limit.basis
    return LimitInForce(
        quantity,
        subject,
        least.size if least else None,
        most.size if most else None,
        basis.layer,
        basis.rule,
        basis.cite,
        basis.level,
        basis.text,
    )
