"""The limits that a phone can hold a reading, a time or a sign against. Pure."""

from typing import Any

from compliance.phone_sheet.sentences import sentence
from compliance.rulebook.kinds.limit import Limit
from compliance.rulebook.standing import Standing
from shared.quantities import Quantity
from shared.wording import Blank

Json = dict[str, Any]

MEASURED: dict[str, Json] = {
    "wind_speed": {"reading": "wind_speed"},
    "gust": {"reading": "gust"},
    "temperature": {"reading": "temperature"},
    "hours_dry_after": {"from": "timing.finished_at", "to": "weather.forecast.dry_until"},
    "reentry": {"from": "timing.finished_at", "to": "timing.reentry_at"},
    "coverage": {"perArea": True},
    "dilution": {"strengthBy": "amount"},
    "sign_letters": {"each": "postings", "member": "letters"},
}
"""How each quantity is measured: over the readings, by the amounts and areas of the mix, from one time to
another, or on each item of a list."""
_SAID_AS_TIME = ("hour", "min")


def limit_on_the_phone(standing: Standing) -> Json | None:
    """What a limit bounds and its sentences; None for a rule that is no limit, or one for the server alone."""
    kind = standing.kind
    if not isinstance(kind, Limit) or kind.measure.name not in MEASURED:
        return None
    measured, unit = MEASURED[kind.measure.name], kind.bounds.unit
    if "from" in measured and unit not in _SAID_AS_TIME:
        return None
    return {
        "of": kind.measure.name,
        "measured": measured,
        "unit": unit,
        "last_only": kind.last_only,
        **{
            side: {"value": bound.value, "unit": bound.unit, "words": _said(standing, kind, wording, bound)}
            for side, bound, wording in (
                ("max", kind.bounds.max, "limit/above"),
                ("min", kind.bounds.min, "limit/below"),
            )
            if isinstance(bound, Quantity)
        },
    }


def _said(standing: Standing, kind: Limit, wording: str, bound: Quantity) -> Json:
    known: dict[str, Blank] = {
        "quantity": kind.measure.label,
        "by": standing.basis.by,
        "bound": bound,
        "mend": standing.basis.mend or kind.measure.mend,
    }
    return sentence(wording, known)
