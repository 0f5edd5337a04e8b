"""A firm's policies as a rule pack: limits that it sets for itself, shown apart from law. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from compliance.facts_reader import VOCABULARY
from compliance.label_limits import size_of
from compliance.rulebook.bounds import Bounds
from compliance.rulebook.kinds.interval import Interval
from compliance.rulebook.kinds.limit import Limit
from compliance.rulebook.pack import Pack
from compliance.rulebook.rule import Duty, Rule
from records.document.canonical import as_json
from records.document.types import Label
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.timeline import Span
from shared.wording import Wording

_CAUTION = Wording(
    "The firm's own policy; it adds to law and label and never loosens them.",
    "Norma propia de la empresa; se suma a la ley y a la etiqueta y nunca las relaja.",
)
_REASON = Wording("The firm asks it of itself.", "La empresa se lo exige a sí misma.")


@dataclass(frozen=True)
class Policy:
    """One policy: its limits in the shape of a label's, binding or as advice."""

    title: str
    limits: Label
    required: bool


def firm_pack(policies: Sequence[Policy]) -> Pack | None:
    """The policies in force as one pack; None without any. Each limit is a rule of its own."""
    if not policies:
        return None
    stated = [[policy.title, policy.required, as_json(policy.limits)] for policy in policies]
    content = canonical_bytes(stated)
    return Pack(
        id="firm",
        version="",
        digest=digest(content),
        content=content,
        place="",
        layer="firm",
        title=Wording("Firm policy", "Norma de la empresa"),
        caution=_CAUTION,
        rules=tuple(rule for number, policy in enumerate(policies, 1) for rule in _rules(number, policy)),
        by=Wording("your firm's policy", "la norma de su empresa"),
    )


def _rules(number: int, policy: Policy) -> Iterator[Rule]:
    for limit in policy.limits.limits or ():
        measure = VOCABULARY.measures.get((limit.of or "").removesuffix("_min"))
        bounds = Bounds(size_of(limit.min), size_of(limit.max))
        if measure is None or (bounds.min is None and bounds.max is None):
            continue
        between = measure.name == "days_between"
        kind = Interval(between=bounds, measure=measure) if between else Limit(measure, bounds)
        yield _rule(f"firm/{number}/{limit.of}", measure.label, kind, policy)


def _rule(name: str, title: Wording, kind: Interval | Limit, policy: Policy) -> Rule:
    return Rule(
        id=name,
        title=title,
        reason=_REASON,
        source="firm",
        text="found",
        doubt=None,
        level="required" if policy.required else "advised",
        stage="during",
        span=Span(),
        judges="products",
        clauses=(),
        mend=None,
        duties=Duty(kind, f"firm policy, {policy.title}"),
        only=None,
    )
