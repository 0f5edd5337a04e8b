"""Situations for properties: the named ones, the example documents, and every example of every pack."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from hypothesis import settings

from compliance.facts_reader import VOCABULARY, read_facts
from compliance.label_pack import label_packs
from compliance.pack_examples import registered_examples
from compliance.pack_reader import registered_packs
from compliance.rulebook.evaluate import Judged, judge
from records.document.context import read_context
from records.document.faults import DocumentFaults
from records.document.reader import read
from tests.compliance.patched import FIXTURES, load

Steps = tuple[str | int, ...]
DOCUMENTS = ("example", "full", "metric", "stood-down")
FEW = settings(max_examples=40, derandomize=True, deadline=None, database=None)
MANY = settings(max_examples=4000, derandomize=True, deadline=None, database=None)


@dataclass(frozen=True, repr=False)
class Situation:
    """A document with its context, as one JSON value; with the packs of every place at once."""

    says: str
    text: str

    def __repr__(self) -> str:
        return f"<{self.says}>"

    @property
    def parts(self) -> dict[str, Any]:
        return json.loads(self.text)


@cache
def named() -> tuple[Situation, ...]:
    """The named situations and the example documents."""
    facts = sorted(path for path in (FIXTURES / "facts").glob("*.json") if ".context" not in path.name)
    found = [_situation(path.stem, f"facts/{path.stem}", f"facts/{path.stem}.context") for path in facts]
    found += [_situation(name, f"documents/{name}", "documents/example-context") for name in DOCUMENTS]
    return tuple(found)


@cache
def situations() -> tuple[Situation, ...]:
    """Those, and the examples of the packs."""
    examples = (example for several in registered_examples().values() for example in several)
    shown = ((example.says, example.documents()) for example in examples)
    return (*named(), *(_of(says, document, context) for says, (document, context) in shown))


def judged(parts: dict[str, Any]) -> Judged | None:
    """What all packs and the labels say, in the order of rules and things; None for a faulty document."""
    try:
        document, context = read(parts["document"]), read_context(parts["context"])
    except DocumentFaults:
        return None
    packs = [*registered_packs(), *label_packs(document)]
    return judge(packs, read_facts(document, context, None), VOCABULARY)


def outcomes(parts: dict[str, Any]) -> dict[str, list[str]] | None:
    """The outcomes of each rule, in the order of the things that it judges."""
    found = judged(parts)
    if found is None:
        return None
    by_rule: dict[str, list[str]] = {}
    for finding in found.findings:
        by_rule.setdefault(finding.rule, []).append(str(finding.outcome))
    return by_rule


def places_of(value: Any, steps: Steps = ()) -> Iterator[tuple[Steps, Any]]:
    """Every value inside a JSON value, with the steps to it."""
    parts = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, part in parts:
        yield (*steps, step), part
        yield from places_of(part, (*steps, step))


def replaced(value: Any, steps: Steps, by: Any) -> Any:
    """A copy of a JSON value with another part at a place."""
    if not steps:
        return by
    copy = dict(value) if isinstance(value, dict) else list(value)
    copy[steps[0]] = replaced(value[steps[0]], steps[1:], by)
    return copy


def _situation(says: str, document: str, context: str) -> Situation:
    there = (FIXTURES / f"{context}.json").exists()
    return _of(says, load(f"{document}.json"), load(f"{context}.json") if there else {})


def _of(says: str, document: Any, context: Any) -> Situation:
    return Situation(says, json.dumps({"document": document, "context": context}))
