"""Planned treatments at the sites of the example documents, with people near and notices that were sent."""

from datetime import datetime
from typing import Any

from compliance.notices.duty import Duty, Told
from compliance.notices.timeline import Plan
from compliance.pack_reader import registered_packs
from records.document.context import read_context
from records.document.reader import read
from tests.compliance.patched import load, patched

NEAR = {"distance": {"value": "20", "unit": "ft"}, "abutting": True, "dwelling": True}


def at(text: str) -> datetime:
    return datetime.fromisoformat(text)


def plan(
    base: str,
    planned: str | None,
    *told: Told,
    neighbours: list[dict[str, Any]] | None = None,
    registered: list[dict[str, Any]] | None = None,
    answers: dict[str, str] | None = None,
    packs: Any = None,
    **changes: Any,
) -> Plan:
    """A plan at a lawn by the registered packs; `changes`: members of the site."""
    if "county" in changes:
        changes["jurisdictions"] = ["us", "us-ny", f"us-ny-{changes['county'].lower()}"]
    document = patched(
        load(f"facts/{base}.json"),
        {
            "timing": {"planned_at": planned},
            "record.result": None,
            "notices": [],
            "surfaces[0].kind": "lawn",
            **{f"site.{name}": value for name, value in changes.items()},
        },
    )
    context = {
        "neighbours": neighbours,
        "registered_persons": registered,
        "determinations": [{"question": one, "answer": said} for one, said in (answers or {}).items()],
    }
    known = registered_packs() if packs is None else packs
    return Plan(read(document), read_context(context), known, told)


def duty(plan: Plan, rule: str) -> Duty:
    return next(one for one in plan.duties.notices if one.rule == rule)


def latest(plan: Plan, rule: str) -> str:
    found = duty(plan, rule).latest
    return found.isoformat(timespec="minutes") if found else "unknown"
