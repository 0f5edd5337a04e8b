"""What an example changes in its base situation: members by path, values as typed. Pure."""

from itertools import pairwise
from typing import Any

from records.document.faults import Fault
from records.document.kind import Kind, MisreadError
from records.document.members import Member, member_at
from records.document.paths import steps_of
from records.document.types import Part, TreatmentDocument
from shared import quantities
from shared.wording import Blanks, Catalogue, Wording, fill

_YES_NO = {"yes": True, "no": False}

WORDINGS: Catalogue = {
    "no_member": Wording("{path} is no member of a record", "{path} no es un dato de un registro"),
    "not_a_list": Wording("{path} is not a list", "{path} no es una lista"),
    "not_a_group": Wording("{path} is not a group", "{path} no es un grupo"),
    "no_single_value": Wording("{path} takes no single value", "{path} no admite un solo valor"),
    "no_item": Wording("{path}: the list has no such item", "{path}: la lista no tiene ese elemento"),
    "misread": Wording("{path}: {problem}", "{path}: {problem}"),
}


class ExampleError(ValueError):
    """An example that can't be made from its base situation."""

    def __init__(self, wording: str, blanks: Blanks) -> None:
        super().__init__(fill(WORDINGS[wording], blanks, "en"))
        self.wording = wording
        self.blanks = blanks

    def say(self, language: str) -> str:
        return fill(WORDINGS[self.wording], self.blanks, language)


def patch(document: dict[str, Any], path: str, value: Any, root: type[Part] = TreatmentDocument) -> None:
    """Set the member at a path by indices (one past the end adds an item; None takes one out).

    `value` is as typed: text, or lists and maps of text. Raises ExampleError.
    """
    try:
        member = member_at(path, root)
    except KeyError:
        raise ExampleError("no_member", {"path": path}) from None
    target: Any = document
    try:
        steps = _steps(path)
        for step, following in pairwise(steps):
            target = _enter(target, step, [] if isinstance(following, int) else {})
        _set(target, steps[-1], _typed(value, member, path))
    except IndexError:
        raise ExampleError("no_item", {"path": path}) from None


def _steps(path: str) -> list[str | int]:
    steps: list[str | int] = []
    for name, selector in steps_of(path):
        if selector is not None and not selector.isdecimal():
            raise IndexError(selector)
        steps += [name] if selector is None else [name, int(selector)]
    return steps


def _enter(target: Any, step: str | int, empty: Any) -> Any:
    if isinstance(step, int):
        if step == len(target):
            target.append(empty)
        return target[step]
    if target.get(step) is None:
        target[step] = empty
    return target[step]


def _set(target: Any, step: str | int, value: Any) -> None:
    if isinstance(step, str):
        target[step] = value
    elif step == len(target):
        target.append(value)
    elif value is None:
        del target[step]
    else:
        target[step] = value


def _typed(value: Any, member: Member, path: str) -> Any:
    """A value as typed in YAML as the JSON value of its member."""
    if isinstance(value, list):
        if not member.item:
            raise ExampleError("not_a_list", {"path": path})
        return [_typed(part, member.item, path) for part in value]
    if isinstance(value, dict):
        part = member.part
        if not part:
            raise ExampleError("not_a_group", {"path": path})
        return {key: _typed(each, member_at(key, part), f"{path}.{key}") for key, each in value.items()}
    if value == "null":
        return None
    if not member.kind:
        raise ExampleError("no_single_value", {"path": path})
    return _single(str(value), member.kind, path)


def _single(value: str, kind: Kind, path: str) -> Any:
    if kind.name == "flag" and value in _YES_NO:
        return _YES_NO[value]
    try:
        if kind.name == "bound":
            return value if value.isdigit() else quantities.parse(value).as_json()
        return kind.parse(value)
    except MisreadError as error:
        raise ExampleError(
            "misread",
            {
                "path": path,
                "problem": Wording(*map(Fault(path, error.wording_id, error.blanks).sentence, ("en", "es"))),
            },
        ) from None
    except quantities.QuantityError as error:
        raise ExampleError("misread", {"path": path, "problem": error}) from None
