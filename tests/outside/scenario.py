"""A treatment as an inspector would find it on the papers, and what the packs in use say of one rule."""

from datetime import date, timedelta
from typing import Any

from tests.compliance.checked import by_rule, check
from tests.compliance.patched import load, patched

Json = dict[str, Any]


def visit(situation: str, changes: Json | None = None, context: Json | None = None) -> Json:
    """The answer of the command for a situation of fixtures/facts, with changes in it and in its context."""
    document = patched(load(f"facts/{situation}.json"), changes or {})
    return check(document, patched(load(f"facts/{situation}.context.json"), context or {}))


def said(answer: Json, rule: str) -> Json:
    """The one finding of a rule."""
    [finding] = by_rule(answer)[rule]
    return finding


def outcomes(answer: Json, prefix: str) -> set[str]:
    """The outcomes of all rules whose id begins so."""
    return {finding["outcome"] for finding in answer["findings"] if finding["rule"].startswith(prefix)}


def worked(start: str, finish: str, recorded: str | None = None) -> Json:
    """The times of the work, planned for when it began; recorded when it ended, unless said otherwise."""
    return {
        "timing.planned_at": start,
        "timing.started_at": start,
        "timing.finished_at": finish,
        "timing.recorded_at": recorded or finish,
        "timing.reentry_at": finish,
        "weather.readings[0].at": start,
    }


def notice(to: str, sent_at: str, planned_at: str, **more: Any) -> Json:
    """A written notice, handed over when it was sent; its alternate dates are the two days after its own."""
    day = date.fromisoformat(planned_at[:10])
    after = [(day + timedelta(days=days)).isoformat() for days in (1, 2)]
    times = {"sent_at": sent_at, "delivered_at": sent_at, "planned_at": planned_at, "alternate_dates": after}
    return {"to": to, "means": "letter", "language": "en", **times, **more}


def person(distance: str, unit: str = "ft", **more: Any) -> Json:
    """Somebody next door, or on a register, of whom the law has the distance measured."""
    return {"distance": {"value": distance, "unit": unit}, "abutting": True, "dwelling": True, **more}


def answer_to(question: str, answer: str, **more: Any) -> Json:
    """The firm's own dated answer to an open question."""
    by = {"by": "J. Quill", "advice": "the agency's staff, in writing", "valid_from": "2026-01-01"}
    return {"question": question, "answer": answer, **by, **more}
