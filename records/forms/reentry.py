"""When the treated area may be entered again, as far as finish and labels tell."""

from collections.abc import Mapping
from datetime import timedelta
from math import ceil
from typing import Any

from records.document.paths import values_at
from shared.quantities import QuantityError, read
from shared.times import TimeError, read_time


def earliest_reentry(document: Mapping[str, Any], _asked_of: Mapping[str, Any] | None = None) -> str | None:
    """The finish and the longest re-entry time of the labels in the mix, RFC 3339; None while one is unknown.

    What else the rules of the place ask is not known here.
    """
    finished = (document.get("timing") or {}).get("finished_at")
    try:
        waits = [ceil(read(wait, "time").base) for wait in _waits(document)]
        if not (finished and waits):
            return None
        return (read_time(finished) + timedelta(minutes=max(waits))).isoformat(timespec="seconds")
    except (QuantityError, TimeError):
        return None


def _waits(document: Mapping[str, Any]) -> list[Any]:
    limits = [
        limit for _path, each in values_at(document, "mixes[].products[].label.limits") for limit in each
    ]
    return [limit["min"] for limit in limits if limit.get("of") == "reentry" and limit.get("min")]
