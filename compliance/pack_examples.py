"""Examples of rules: a base situation, what is changed in it as typed, and the outcomes expected. Pure."""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from compliance.check import Check, check_document
from compliance.example_patches import patch
from compliance.pack_reader import PACKS, registered_packs, registry
from compliance.rulebook.outcome import worst
from compliance.rulebook.pack import Pack
from records.document.context import Context, read_context
from records.document.days import treatment_day
from records.document.reader import read
from records.document.types import TreatmentDocument
from shared.strict_yaml import YamlList, check_keys
from shared.strict_yaml import read as read_yaml

BASES = Path(__file__).parents[1] / "fixtures" / "facts"
_MOMENT = re.compile(r"(\d{4}-\d{2}-\d{2})(T.*)?")
_LONG_FORM = ("outcome", "about", "due", "keep_until", "level", "message")
_NOT_DAYS = ("version",)


@dataclass(frozen=True)
class Example:
    """One example of one pack."""

    pack: Pack
    says: str
    on: str | None
    facts: Mapping[str, Any]
    context: Mapping[str, Any]
    expect: Mapping[str, Any]

    def check(self) -> Check:
        """The check of the patched document by this pack alone. Raises ExampleError or DocumentFaults."""
        document, context = self.documents()
        policy = self.pack if self.pack.layer == "firm" else None
        laws = [] if policy else [self.pack]
        return check_document(read(document), read_context(context), packs=laws, firm_policy=policy)

    def documents(self) -> tuple[dict[str, Any], dict[str, Any]]:
        """The patched document and its context, as JSON values. Raises ExampleError."""
        document, context = _base(self.facts["from"])
        if self.on:
            day = treatment_day(read(json.dumps(document)))
            moved_by = date.fromisoformat(self.on) - (day or date.max)
            document, context = _moved(document, moved_by), _moved(context, moved_by)
        for path, value in self.facts.items():
            if path != "from":
                patch(document, path, value, TreatmentDocument)
        for path, value in self.context.items():
            patch(context, path, value, Context)
        return document, context


def examples_of(pack: Pack, folder: Path) -> Iterator[Example]:
    """All examples in a pack's folder. Raises StrictYamlError."""
    for file in sorted((folder / "examples").glob("*.yaml")):
        name = f"{folder.name}/examples/{file.name}"
        tree = read_yaml(file.read_text(encoding="utf-8"), name)
        for raw in tree if isinstance(tree, YamlList) else ():
            fields = check_keys(raw, name, ["says", "facts", "expect"], ["on", "context"])
            yield Example(
                pack,
                str(fields["says"]),
                fields.get("on"),
                fields["facts"],
                fields.get("context", {}),
                fields["expect"],
            )


@cache
def registered_examples() -> Mapping[str, tuple[Example, ...]]:
    """All examples of each registered pack, by its id. Raises PackError or StrictYamlError."""
    folders = registry(PACKS / "registry.yaml")
    pairs = zip(registered_packs(), folders, strict=True)
    return {pack.id: tuple(examples_of(pack, PACKS / folder)) for pack, folder in pairs}


def seen(check: Check, rule: str) -> dict[str, Any]:
    """What a check says of one rule: the worst outcome, the members of its findings, dates."""
    findings = [finding for finding in check.findings if finding.rule == rule]
    if not findings:
        return {"outcome": "absent"}
    outcome = worst(finding.outcome for finding in findings)
    chosen = [finding.as_json("en") for finding in findings if finding.outcome is outcome]
    return {
        "outcome": str(outcome),
        "about": [path for finding in chosen for path in finding["about"]],
        "due": chosen[0]["due"],
        "keep_until": chosen[0]["keep_until"],
        "level": chosen[0]["level"],
        "message": chosen[0]["message"],
    }


def wanted(expected: Any) -> dict[str, Any]:
    """An expectation in its long form. Raises ValueError for a word that it does not know."""
    if isinstance(expected, str):
        return {"outcome": str(expected)}
    if unknown := set(expected) - set(_LONG_FORM):
        raise ValueError(f"an expectation has no {unknown}")
    return {
        key: [str(part) for part in value] if isinstance(value, list) else str(value)
        for key, value in expected.items()
    }


@cache
def _texts(name: str) -> tuple[str, str]:
    context = BASES / f"{name}.context.json"
    return (BASES / f"{name}.json").read_text(), context.read_text() if context.exists() else "{}"


def _base(name: str) -> tuple[dict[str, Any], dict[str, Any]]:
    document, context = _texts(name)
    return json.loads(document), json.loads(context)


def _moved(value: Any, by: timedelta) -> Any:
    """Every day and time moved by the same number of days."""
    if isinstance(value, dict):
        return {key: part if key in _NOT_DAYS else _moved(part, by) for key, part in value.items()}
    if isinstance(value, list):
        return [_moved(part, by) for part in value]
    match = _MOMENT.fullmatch(value) if isinstance(value, str) else None
    if not match:
        return value
    return (date.fromisoformat(match[1]) + by).isoformat() + (match[2] or "")
