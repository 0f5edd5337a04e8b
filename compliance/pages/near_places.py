"""The places near to those that a request asks for, as its page says them."""

from typing import Any
from urllib.parse import urlencode

from django.urls import reverse
from django.utils.formats import number_format

from compliance.services.request_met import Met
from compliance.services.request_near import near_places

SHOWN = 10
_FEET = 0.3048
"""Metres in a foot, exactly (the international foot of 1959)."""


def near_said(met: Met, *, metric: bool) -> dict[str, Any]:
    """The nearest with how far they are and how many records fit there, and how many places are left."""
    found = near_places(met) or []
    wanted = {name: value for name, value in met.wanted.as_json().items() if name != "customer"}
    shown = [
        {
            "name": each.site.name,
            "far": _far(each.metres, metric=metric),
            "records": each.records,
            "register": f"{reverse('register')}?{urlencode(wanted | {'site': each.site.name})}",
        }
        for each in found[:SHOWN]
    ]
    return {"places": shown, "left": len(found) - len(shown)}


def _far(metres: float, *, metric: bool) -> str:
    amount = round(metres) if metric else round(metres / _FEET)
    return f"{number_format(amount, force_grouping=True)} {'m' if metric else 'ft'}"
