"""The evidence that a document names: photos of protection steps, by the digests of their bytes."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from records.document.paths import pattern_of, values_at

Json = dict[str, Any]


@dataclass(frozen=True)
class StepOf:
    """A protection step in a document: its path by id, and the evidence that it has."""

    path: str
    step: str
    evidence: list[Json]


def steps_of(document: Mapping[str, Any]) -> Iterator[StepOf]:
    for index, (_place, item) in enumerate(values_at(document, "protection[]")):
        if isinstance(item, dict):
            path = f"protection[{item.get('id') or index}]"
            yield StepOf(path, item.get("step") or "", item.get("evidence") or [])


def step_of(document: Mapping[str, Any], step: str) -> StepOf | None:
    """The first step of this word."""
    return next((each for each in steps_of(document) if each.step == step), None)


def named_in(document: Mapping[str, Any], follow_ups: Iterable[Mapping[str, Any]] = ()) -> set[str]:
    """The digests of all evidence in the document and in these follow-ups."""
    of_steps = [each for step in steps_of(document) for each in step.evidence]
    later = [each for follow_up in follow_ups for each in follow_up.get("evidence") or []]
    return {each["sha256"] for each in (*of_steps, *later) if each.get("sha256")}


def digests_in(path: str, value: object) -> set[str]:
    """The digests of photos that an edit of this path to this value would write."""
    pattern = pattern_of(path)
    if not pattern.startswith("protection"):
        return set()
    return set(_digests(value, pattern.endswith(".sha256")))


def _digests(value: object, is_one: bool) -> Iterator[str]:
    if isinstance(value, str):
        yield from [value] if is_one else []
    elif isinstance(value, dict):
        for name, part in value.items():
            yield from _digests(part, name == "sha256")
    elif isinstance(value, list):
        for item in value:
            yield from _digests(item, False)
