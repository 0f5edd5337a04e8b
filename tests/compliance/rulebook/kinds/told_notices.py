"""Rules of notice, and notices that were given, for the tests of the kind `notice`.

The invented law binds the roof of 14 September 2026, started at 09:12 Pacific daylight time.
"""

from typing import Any

from compliance.rulebook.finding import Finding
from tests.compliance.rulebook.builders import findings, rule

WHEN_TO_TELL = {"id": "xx/notice", "kind": "notice", "stage": "before", "to": ["customer"]}

NEIGHBOURS = {
    "lead": "48 hour",
    "to": ["neighbour"],
    "whom": {
        "all": [
            {"fact": "item.abutting", "is": "yes"},
            {"fact": "item.distance", "at most": "150 ft"},
        ]
    },
}


def notice(**keys: Any) -> dict[str, Any]:
    return rule(**{**WHEN_TO_TELL, "lead": None if "after" in keys else "48 hour", **keys})


def told(at: str | None, **more: Any) -> dict[str, Any]:
    """One notice to the customer, sent at this time (and not known to be delivered)."""
    one = {"to": "customer", "name": "A. Marlowe", "means": "email", "language": "en", "sent_at": at}
    return {"notices": [{**one, "planned_at": "2026-09-14T09:00:00-07:00", **more}]}


def near(*flags: dict[str, Any]) -> dict[str, Any]:
    """Neighbours by number, abutting at 20 ft unless said otherwise."""
    usual = {"abutting": True, "distance": {"value": "20", "unit": "ft"}, "dwelling": True}
    return {"neighbours": [{"name": f"N. {n}", **usual, **one} for n, one in enumerate(flags, 1)]}


def sheets(*sent: str, **more: Any) -> dict[str, Any]:
    """Notices to neighbours, without names."""
    return {"notices": [{"to": "neighbour", "means": "door", "sent_at": at, **more} for at in sent]}


def started(at: str, **more: Any) -> dict[str, Any]:
    return {"timing": {"planned_at": at, "started_at": at, **more}}


def per_neighbour(changes: dict[str, Any], context: dict[str, Any], **keys: Any) -> list[Finding]:
    return findings(notice(**{**NEIGHBOURS, **keys}), changes=changes, context=context)
