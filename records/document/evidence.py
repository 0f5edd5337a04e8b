"""The evidence that a document names: photos of steps and incidents, by the digests of their bytes."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from records.document.paths import pattern_of, values_at

Json = dict[str, Any]


@dataclass(frozen=True)
class Shown:
    """What photos show: a protection step or an incident of a document, its path by id, and its evidence.

    `step` is what a photo names it by: a step by its word, an incident by its path. `word` of `word_list` says
    it to a person.
    """

    path: str
    step: str
    evidence: list[Json]
    word: str
    word_list: str


def all_shown(document: Mapping[str, Any]) -> Iterator[Shown]:
    for path, item in _items(document, "protection"):
        step = item.get("step") or ""
        yield Shown(path, step, item.get("evidence") or [], step, "step")
    for path, item in _items(document, "incidents"):
        yield Shown(path, path, item.get("evidence") or [], item.get("kind") or "", "incident_kind")


def shown_by(document: Mapping[str, Any], step: str) -> Shown | None:
    """The first that a photo names so."""
    return next((each for each in all_shown(document) if each.step == step), None)


def _items(document: Mapping[str, Any], where: str) -> Iterator[tuple[str, Json]]:
    for index, (_place, item) in enumerate(values_at(document, f"{where}[]")):
        if isinstance(item, dict):
            yield f"{where}[{item.get('id') or index}]", item


def named_in(document: Mapping[str, Any], follow_ups: Iterable[Mapping[str, Any]] = ()) -> set[str]:
    """The digests of all evidence in the document and in these follow-ups."""
    own = [each for shown in all_shown(document) for each in shown.evidence]
    later = [each for follow_up in follow_ups for each in follow_up.get("evidence") or []]
    return {each["sha256"] for each in (*own, *later) if each.get("sha256")}


def digests_in(path: str, value: object) -> set[str]:
    """The digests of photos that an edit of this path to this value would write."""
    pattern = pattern_of(path)
    if not pattern.startswith(("protection", "incidents")):
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
