"""What must agree within a document: names differ, what is referred to is there, no finish before its start.

Works on JSON values of any shape, so that these faults are reported beside faults of shape.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from records.document.faults import Fault
from records.document.kind import shown
from records.document.paths import values_at
from shared.times import TimeError, read_time

_UNIQUE_NAMES = ("surfaces", "people")
_UNIQUE_IDS = (
    "people", "surfaces", "mixes", "equipment", "timing.pauses", "weather.readings", "protection", "notices",
    "postings", "incidents"
)  # fmt: skip
_REFERENCES = {
    "people[].supervised_by": "people",
    "weather.readings[].by": "people",
    "protection[].by": "people",
    "protection[].features[]": "site.features",
    "mixes[].equipment": "equipment",
    "mixes[].surfaces[].surface": "surfaces",
    "mixes[].left_over.surface": "surfaces",
}
_SPANS = ("timing", "timing.pauses[]", "mixes[].surfaces[]")


def disagreements(document: object, shape_faults: Sequence[Fault] = ()) -> list[Fault]:
    """The faults between members. A list whose names are themselves at fault is not looked into."""
    unsure = {fault.path for fault in shape_faults}
    return [
        *_taken(document),
        *_dangling(document, unsure),
        *_backwards(document),
        *_places(document),
    ]


def rename_references(document: dict[str, Any], where: str, old: str, new: str) -> None:
    """In place: everything that refers by name to a thing in the list `where` takes its new name."""
    for pattern in (pattern for pattern, target in _REFERENCES.items() if target == where):
        owners, _, name = pattern.removesuffix("[]").rpartition(".")
        for _, owner in values_at(document, owners):
            value = owner.get(name) if isinstance(owner, dict) else None
            if isinstance(owner, dict) and value == old:
                owner[name] = new
            elif isinstance(value, list):
                value[:] = [new if item == old else item for item in value]


def _taken(document: object) -> Iterator[Fault]:
    for wording, blank, lists in (
        ("document/name_taken", "name", _UNIQUE_NAMES),
        ("document/id_taken", "id", _UNIQUE_IDS),
    ):
        for where in lists:
            first: dict[str, str] = {}
            for path, value in values_at(document, f"{where}[].{blank}"):
                if not isinstance(value, str):
                    continue
                if value in first:
                    yield Fault(path, wording, {blank: shown(value), "first": first[value]})
                else:
                    first[value] = path.rpartition(".")[0]


def _dangling(document: object, unsure: set[str]) -> Iterator[Fault]:
    """References by name or id. A list that is left out was not asked, so nothing is missing from it."""
    for pattern, where in _REFERENCES.items():
        there = [value for _, value in values_at(document, where)]
        if not there or _names_at_fault(where, unsure):
            continue
        names = [name for _, name in values_at(document, f"{where}[].name")]
        ids = [name for _, name in values_at(document, f"{where}[].id")]
        for path, value in values_at(document, pattern):
            if isinstance(value, str) and value not in names and value not in ids:
                listed = ", ".join(shown(name) for name in names[:20]) or "—"
                yield Fault(
                    path,
                    "document/nothing_of_that_name",
                    {"name": shown(value), "where": where, "names": listed},
                )


def _names_at_fault(where: str, unsure: set[str]) -> bool:
    return any(
        path == where or (path.startswith(f"{where}[") and path.endswith(("]", ".name", ".id")))
        for path in unsure
    )


def _backwards(document: object) -> Iterator[Fault]:
    for span in _SPANS:
        for path, value in values_at(document, span):
            if not isinstance(value, dict):
                continue
            start, finish = value.get("started_at"), value.get("finished_at")
            if isinstance(start, str) and isinstance(finish, str) and _is_before(finish, start):
                yield Fault(
                    f"{path}.finished_at", "document/finish_before_start", {"start": start, "finish": finish}
                )


def _is_before(finish: str, start: str) -> bool:
    try:
        return read_time(finish) < read_time(start)
    except TimeError:
        return False


def _places(document: object) -> Iterator[Fault]:
    earlier: list[str] = []
    for path, place in values_at(document, "site.jurisdictions[]"):
        if not isinstance(place, str):
            continue
        if place in earlier:
            yield Fault(path, "document/place_twice", {"got": place})
        elif narrower := next((other for other in earlier if other.startswith(f"{place}-")), None):
            yield Fault(path, "document/wider_place_later", {"got": place, "earlier": narrower})
        earlier.append(place)
