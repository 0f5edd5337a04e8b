"""Bounds that nothing in nature could keep. Pure."""

from collections.abc import Mapping

from compliance.rulebook.bounds import order
from compliance.rulebook.errors import RuleError
from compliance.rulebook.kinds.limit import Limit
from compliance.rulebook.pack import Pack
from shared.quantities import Quantity
from shared.wording import Blanks

_POSSIBLE: Mapping[str, tuple[Quantity, Quantity]] = {
    "temperature": (Quantity("-60", "degC"), Quantity("60", "degC")),
    "wind_speed": (Quantity("0", "mph"), Quantity("250", "mph")),
    "gust": (Quantity("0", "mph"), Quantity("250", "mph")),
}
"""The least and the most near the ground where people live: from memory."""


def refuse_impossible(pack: Pack) -> None:
    """Refuse a limit that asks for at least more, or at most less, than there ever is. Raises RuleError, whose
    last place is the side of the bound."""
    for standing in pack.timetable.on(None):
        kind = standing.kind
        if not isinstance(kind, Limit) or kind.measure.name not in _POSSIBLE:
            continue
        least, most = _POSSIBLE[kind.measure.name]
        for side, bound, beyond in (("min", kind.bounds.min, most), ("max", kind.bounds.max, least)):
            if isinstance(bound, Quantity) and order(bound, beyond) * (1 if side == "min" else -1) > 0:
                blanks: Blanks = {"quantity": kind.measure.label, "got": bound, "bound": beyond}
                raise RuleError("rule/never_kept", blanks, (side,))
