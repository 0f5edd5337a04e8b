"""Layers: the limits in force over all packs, and what no layer may do."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from compliance.rulebook.bounds import order, sayable
from compliance.rulebook.errors import RuleError
from compliance.rulebook.evaluate import InForce
from compliance.rulebook.finding import Basis, Finding, Members, seen_as_json
from compliance.rulebook.kind import Judgement
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.pack import Pack
from compliance.rulebook.sizes import Size
from shared.wording import Blank, Wording

_SIDES = ("min", "max")


@dataclass(frozen=True)
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


@dataclass(frozen=True)
class _Bound:
    limit: InForce
    side: str
    size: Size

    @property
    def kind(self) -> tuple[str, str]:
        """What may be compared: the quantity and its dimension."""
        dimension = "count" if isinstance(self.size, int) else self.size.dimension
        return self.limit.limited.measure.name.removesuffix("_min"), dimension

    @property
    def sureness(self) -> int:
        """How surely it binds: a required text that was read before one from memory, before advice."""
        basis = self.limit.basis
        return (basis.level == "required") * 2 + (basis.text != "memory" and basis.doubt is None)

    def stricter_than(self, other: "_Bound") -> bool:
        sign = order(self.size, other.size)
        return sign < 0 if self.side == "max" else sign > 0

    def comes_before(self, other: "_Bound") -> bool:
        """Stricter, or as strict and surer: at a tie the layer that surely binds is named."""
        tie = order(self.size, other.size) == 0
        return self.stricter_than(other) or (tie and self.sureness > other.sureness)


def limits_in_force(limits: Sequence[InForce]) -> list[LimitInForce]:
    """The strictest bounds over all layers, for each quantity of each thing. What binds the whole treatment
    binds each of its products, too."""
    strictest = _strictest(limits)
    found = []
    for (subject, kind), sides in sorted(strictest.items(), key=lambda one: one[0]):
        least, most = sides.get("min"), sides.get("max")
        if least and most and least.limit is most.limit:
            found.append(_in_force(subject, kind[0], least, most, most))
        else:
            found += [_in_force(subject, kind[0], least, None, least)] if least else []
            found += [_in_force(subject, kind[0], None, most, most)] if most else []
    return found


def unlawful(limits: Sequence[InForce], members: Members) -> list[Finding]:
    """A finding for each quantity whose strictest minimum is above its strictest maximum."""
    findings = []
    for (subject, kind), sides in sorted(_strictest(limits).items(), key=lambda one: one[0]):
        least, most = sides.get("min"), sides.get("max")
        if least and most and order(least.size, most.size) > 0:
            findings.append(_no_lawful_value(subject, kind[0], least, most, members))
    return findings


def refuse_loosening(policy: Pack, laws: Iterable[Pack]) -> None:
    """Refuse a firm's policy that allows what a law does not. Raises RuleError with the reason.

    A limit of the policy is set against the latest value of each law's limit on the same quantity.
    """
    lawful = [bound for law in laws for bound in _bounds_of(law)]
    for own in _bounds_of(policy):
        for bound in lawful:
            comparable = own.kind == bound.kind and own.side == bound.side
            if comparable and bound.limit.basis.level == "required" and bound.stricter_than(own):
                raise _loosens(own, bound)


def _loosens(own: _Bound, bound: _Bound) -> RuleError:
    rule = own.limit.basis.rule
    blanks: dict[str, Blank] = {"rule": rule, "law": bound.limit.basis.rule}
    blanks |= {"allows": sayable(own.size), "bound": sayable(bound.size)}
    return RuleError("rule/loosens", blanks, (rule,))


def _bounds_of(pack: Pack) -> list[_Bound]:
    limits = [
        InForce("", limited, standing.basis)
        for standing in pack.timetable.on(None)
        for limited in standing.limits
    ]
    return [bound for limit in limits for bound in _sides(limit)]


def _sides(limit: InForce) -> list[_Bound]:
    sizes = ((side, getattr(limit.limited.bounds, side)) for side in _SIDES)
    return [_Bound(limit, side, size) for side, size in sizes if size is not None]


def _strictest(limits: Sequence[InForce]) -> dict[tuple[str, tuple[str, str]], dict[str, _Bound]]:
    products = sorted({limit.subject for limit in limits if ".products[" in limit.subject})
    found: dict[tuple[str, tuple[str, str]], dict[str, _Bound]] = {}
    for limit in limits:
        for subject in [limit.subject] if limit.subject else products or [""]:
            for bound in _sides(limit):
                sides = found.setdefault((subject, bound.kind), {})
                if bound.side not in sides or bound.comes_before(sides[bound.side]):
                    sides[bound.side] = bound
    return found


def _in_force(
    subject: str, quantity: str, least: _Bound | None, most: _Bound | None, setter: _Bound
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


def _no_lawful_value(subject: str, quantity: str, least: _Bound, most: _Bound, members: Members) -> Finding:
    low, high = least.limit.basis, most.limit.basis
    basis = Basis(
        rule=f"rulebook/no-lawful-value/{quantity.replace('_', '-')}",
        pack="rulebook",
        title=Wording("No lawful value", "Ningún valor lícito"),
        level="required" if {low.level, high.level} == {"required"} else "advised",
        layer=high.layer,
        stage="before",
        cite=f"{low.cite}; {high.cite}",
        text="found",
        doubt=None,
        by="",
    )
    blanks: dict[str, Blank] = {
        "quantity": least.limit.limited.measure.label,
        "min": sayable(least.size),
        "max": sayable(most.size),
        "min_by": low.by,
        "max_by": high.by,
    }
    about = (subject,) if subject else ()
    judgement = Judgement(Outcome.NOT_MET, "no_lawful_value", about, blanks)
    return Finding(basis, judgement, basis.level, members)
