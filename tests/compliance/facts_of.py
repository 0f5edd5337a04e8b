"""The facts of an example document with changes in it, and what is measured on it."""

from typing import Any

from compliance.facts_reader import read_facts
from compliance.rulebook.sizes import Exact, Measured
from records.document.context import read_context
from records.document.reader import read
from tests.compliance.patched import load, patched

OTHER = "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b99"


def facts(changes: dict[str, Any] | None = None, context: dict[str, Any] | None = None) -> Any:
    document = read(patched(load("facts/roof-in-september.json"), changes or {}))
    given = patched(load("facts/roof-in-september.context.json"), context or {})
    return read_facts(document, read_context(given))


def derived(name: str, changes: dict[str, Any] | None = None) -> Any:
    return facts(changes).root.members["treatment"].members[name]


def measured(
    name: str, unit: str | None = None, changes: Any = None, context: Any = None, judges: str = "products"
) -> tuple[Measured, ...]:
    return facts(changes, context).subjects[judges].subjects[0].measure(name, unit)


def earlier(day: str, **changes: Any) -> dict[str, Any]:
    times = {"timing": {"started_at": f"{day}T09:00:00-07:00"}, "record.id": OTHER}
    return patched(load("facts/roof-in-september.json"), {**times, **changes})


def shown(found: tuple[Measured, ...]) -> list[Any]:
    return [one.value.as_json()["value"] if isinstance(one.value, Exact) else one.value for one in found]
