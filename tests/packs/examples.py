"""Examples of rule packs: a base document, patches as typed, and the outcomes expected."""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

from compliance.check import Check, check_document
from compliance.rulebook.outcome import worst
from compliance.rulebook.pack import Pack
from records.document.context import Context, read_context
from records.document.days import treatment_day
from records.document.members import Member, member_at
from records.document.reader import read
from records.document.types import TreatmentDocument
from shared import quantities
from shared.strict_yaml import check_keys
from shared.strict_yaml import read as read_yaml

BASES = Path(__file__).parents[2] / "fixtures" / "facts"
_MOMENT = re.compile(r"(\d{4}-\d{2}-\d{2})(T.*)?")
_STEP = re.compile(r"([a-z0-9_]+)((?:\[\d+\])*)")
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
        """The check of the patched document by this pack alone."""
        document, context = self._documents()
        return check_document(read(document), read_context(context), packs=[self.pack])

    def _documents(self) -> tuple[dict[str, Any], dict[str, Any]]:
        document, context = _base(self.facts["from"])
        if self.on:
            day = treatment_day(read(json.dumps(document)))
            moved_by = date.fromisoformat(self.on) - (day or date.max)
            document, context = _moved(document, moved_by), _moved(context, moved_by)
        for path, value in self.facts.items():
            if path != "from":
                _patch(document, path, value, TreatmentDocument)
        for path, value in self.context.items():
            _patch(context, path, value, Context)
        return document, context


def examples_of(pack: Pack, folder: Path) -> Iterator[Example]:
    """All examples in a pack's folder. Raises StrictYamlError."""
    for file in sorted((folder / "examples").glob("*.yaml")):
        name = f"{folder.name}/examples/{file.name}"
        for raw in read_yaml(file.read_text(encoding="utf-8"), name):
            fields = check_keys(raw, name, ["says", "facts", "expect"], ["on", "context"])
            yield Example(
                pack,
                str(fields["says"]),
                fields.get("on"),
                fields["facts"],
                fields.get("context", {}),
                fields["expect"],
            )


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
    """An expectation in its long form."""
    if isinstance(expected, str):
        return {"outcome": str(expected)}
    unknown = set(expected) - set(_LONG_FORM)
    assert not unknown, f"an expectation has no {unknown}"
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


def _patch(document: dict[str, Any], path: str, value: Any, root: type) -> None:
    steps: list[str | int] = []
    for part in path.split("."):
        match = _STEP.fullmatch(part)
        assert match, f"not a path: {path}"
        steps += [match[1], *(int(index) for index in re.findall(r"\d+", match[2]))]
    target: Any = document
    for step, following in pairwise(steps):
        target = _enter(target, step, [] if isinstance(following, int) else {})
    _set(target, steps[-1], _typed(value, member_at(path, root)), path)


def _enter(target: Any, step: str | int, empty: Any) -> Any:
    if isinstance(step, int):
        if step == len(target):
            target.append(empty)
        return target[step]
    if target.get(step) is None:
        target[step] = empty
    return target[step]


def _set(target: Any, step: str | int, value: Any, path: str) -> None:
    if isinstance(step, str):
        target[step] = value
    elif step == len(target):
        target.append(value)
    elif value is None:
        del target[step]
    else:
        target[step] = value


def _typed(value: Any, member: Member) -> Any:
    """A value as typed in YAML as the JSON value of its member."""
    if isinstance(value, list):
        assert member.item, f"{member.name} is not a list"
        return [_typed(part, member.item) for part in value]
    if isinstance(value, dict):
        assert member.part, f"{member.name} is not an object"
        return {key: _typed(part, member_at(key, member.part)) for key, part in value.items()}
    if value == "null":
        return None
    assert member.kind, f"{member.name} takes no single value"
    if member.kind.name == "flag":
        return {"yes": True, "no": False}[value]
    if member.kind.name == "bound":
        return str(value) if value.isdigit() else quantities.parse(value).as_json()
    return member.kind.parse(str(value))
