"""Whom a law wants to be told of an incident, and by when, as a pack states it. Pure."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from compliance.rulebook.answer_times import AT_ONCE
from compliance.rulebook.errors import RuleError
from compliance.rulebook.reading import Params, as_text, as_wording, each, one_of, quantity
from shared.quantities import Quantity
from shared.wording import Wording

INCIDENTS = ("spill", "drift", "exposure", "property-damage", "complaint", "equipment-failure")
"""The kinds of incident of the treatment document."""


@dataclass(frozen=True)
class IncidentReport:
    """A duty to report incidents of these kinds `to` somebody, whose phone is `call` where one is known.

    `binds` says in which case; whether this is one, a person judges. `within` is counted from when the firm
    knew of it; None: at once.
    """

    cite: str
    kinds: tuple[str, ...]
    to: Wording
    binds: Wording
    read: str
    at_once: bool
    within: Quantity | None
    call: str = ""
    doubt: Wording | None = None

    @property
    def dial(self) -> str:
        return "".join(each for each in self.call if each.isdigit())

    def due(self, known: datetime) -> datetime:
        """The latest moment, as hours pass in UTC; the moment itself for what is due at once."""
        if self.within is None:
            return known
        later = known.astimezone(UTC) + timedelta(minutes=int(self.within.to("min")))
        return later.astimezone(known.tzinfo)


def read_incident_report(part: Params) -> IncidentReport:
    """One entry of a pack's `incidents`. Raises RuleError."""
    cite = part.value("cite", as_text)
    kinds = part.value("of", each(one_of(INCIDENTS)))
    to, binds = part.value("to", as_wording), part.value("binds", as_wording)
    read = part.value("read", as_text)
    first = part.maybe("first", one_of((AT_ONCE,)))
    within = part.value("within", _within)
    call, doubt = part.maybe("call", as_text) or "", part.maybe("doubt", as_wording)
    part.done()
    at_once = first is not None or within is None
    return IncidentReport(cite, kinds, to, binds, read, at_once, within, call, doubt)


def _within(raw: Any) -> Quantity | None:
    """`at once` (None) or hours."""
    if as_text(raw) == AT_ONCE:
        return None
    length = quantity("time")(raw)
    if length.unit == "day":
        raise RuleError("rule/bad_duration", {"got": raw, "example": "at once, 48 hour"})
    return length
