"""The limits in force: of each quantity of each thing the strictest over all layers."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from compliance.rulebook.evaluate import Judged
from compliance.rulebook.finding import seen_as_json
from compliance.rulebook.limit_bound import Bound
from compliance.rulebook.sizes import Size
from shared.values import Value

Thing = tuple[str, tuple[str, str]]
"""What a limit binds: the path of the thing, and the quantity with its dimension."""


class LimitInForce(Value, frozen=True):
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


def strictest_of(judged: Judged) -> Strictest:
    """Where a product has a limit of its own, what binds the whole treatment is set against it, and stands for
    every other product."""
    of_products = any(subject in judged.products for subject, _bound in judged.limits)
    everywhere = judged.products if of_products else ("",)
    of_all: dict[Thing, Sides] = {}
    required: dict[Thing, Sides] = {}
    for subject, bound in judged.limits:
        for each in (subject,) if subject else everywhere:
            thing = (each, bound.kind)
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
    if least and most and least.limited is most.limited:
        return [_in_force(subject, quantity, least, most, most)]
    found = [_in_force(subject, quantity, least, None, least)] if least else []
    return [*found, *([_in_force(subject, quantity, None, most, most)] if most else [])]


def _in_force(
    subject: str, quantity: str, least: Bound | None, most: Bound | None, setter: Bound
) -> LimitInForce:
    basis = setter.basis
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
