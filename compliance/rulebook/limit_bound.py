"""One end of a limit, and the rule that sets it."""

from collections.abc import Iterator
from dataclasses import dataclass

from compliance.rulebook.bounds import order
from compliance.rulebook.finding import Basis
from compliance.rulebook.kind import Limited
from compliance.rulebook.sizes import Size


@dataclass(frozen=True, eq=False, slots=True)
class Bound:
    """The least or the most that a rule allows. `kind` is what it may be compared with: the quantity and its
    dimension.

    `binds`: its rule is required. `sureness`: how surely it binds; a required text that was read before one
    from memory, before advice.
    """

    basis: Basis
    limited: Limited
    side: str
    size: Size
    kind: tuple[str, str]
    binds: bool
    sureness: int

    def stricter_than(self, other: "Bound") -> bool:
        sign = order(self.size, other.size)
        return sign < 0 if self.side == "max" else sign > 0

    def comes_before(self, other: "Bound") -> bool:
        """Stricter, or as strict and surer: at a tie the layer that surely binds is named."""
        tie = order(self.size, other.size) == 0
        return self.stricter_than(other) or (tie and self.sureness > other.sureness)


def bounds_of(limited: Limited, basis: Basis) -> Iterator[Bound]:
    """Each end that a limit has."""
    binds = basis.level == "required"
    sureness = binds * 2 + (basis.text != "memory" and basis.doubt is None)
    for side, size, kind in limited.sides:
        yield Bound(basis, limited, side, size, kind, binds, sureness)
