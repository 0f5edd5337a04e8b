"""The record's own arithmetic as a layer of advice: amounts that do not add up are shown, never refused."""

from compliance.rulebook.kinds.sums import SUMS, Sums
from compliance.rulebook.pack import Pack
from compliance.rulebook.rule import Duty, Rule
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.quantities import Quantity
from shared.timeline import Span
from shared.wording import Wording

WITHIN = Quantity("2", "percent")
"""How far a gauge may be off before a sum is questioned: common practice, no source."""

_TITLE = Wording("Sums on the record", "Sumas del registro")


def sums_pack() -> Pack:
    """One advised rule for each sum."""
    return Pack(
        id="sums",
        version="1",
        digest=digest(canonical_bytes([*SUMS, WITHIN.as_json()])),
        place="",
        layer="record",
        title=_TITLE,
        caution=Wording("Arithmetic, not law.", "Aritmética, no ley."),
        rules=tuple(_rule(name) for name in SUMS),
    )


def _rule(name: str) -> Rule:
    return Rule(
        id=f"sums/{name}",
        title=_TITLE,
        reason=Wording(
            "A record whose sums agree is believed.", "Se cree un registro cuyas sumas coinciden."
        ),
        source="sums",
        text="found",
        doubt=None,
        level="advised",
        stage="after",
        span=Span(),
        judges="mixes",
        clauses=(),
        mend=None,
        duties=Duty(Sums(name, WITHIN), "arithmetic of the record"),
    )
