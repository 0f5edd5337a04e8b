"""One value put at one path of a document: members by name, items by id (by index if they have none)."""

from collections.abc import Sequence
from typing import Any

from records.document.faults import Fault
from records.document.kind import MisreadError
from records.document.members import Member, member_at
from records.document.paths import Step, pattern_of, steps_of
from records.document.references import rename_references
from shared.quantities import QuantityError
from shared.times import TimeError


class NotPlacedError(ValueError):
    """A value that cannot stand at its path; `fault` says why."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.say("en"))
        self.fault = fault


def place(document: dict[str, Any], path: str, value: object) -> None:
    """Put the value at the path of this document; None takes the member or item out.

    Text for a member that is not text is read as typed (`2600 sq ft`). An item under a new id is added. A
    list that loses its last item is left out: an empty one would say that there is none. A thing that is
    given another name keeps its references. Raises NotPlacedError.
    """
    try:
        member, steps = member_at(path), steps_of(path)
    except KeyError:
        raise NotPlacedError(Fault(path, "edit/not_a_path", {"path": path})) from None
    new = _without_nulls(_as_typed(member, path, value))
    owner, last = _owner(document, steps, path, new is not None)
    if owner is None:
        return
    old = owner.get(last[0]) if last[1] is None else None
    _put(owner, last, new, path)
    if last == ("name", None) and isinstance(old, str) and isinstance(new, str):
        rename_references(document, pattern_of(path).removesuffix("[].name"), old, new)


def value_at(document: dict[str, Any], path: str) -> object:
    """What stands at the path, None where there is nothing. Raises NotPlacedError for no path at all."""
    try:
        member_at(path)
    except KeyError:
        raise NotPlacedError(Fault(path, "edit/not_a_path", {"path": path})) from None
    value: Any = document
    for name, selector in steps_of(path):
        value = value.get(name) if isinstance(value, dict) else None
        if selector is not None:
            at = _index(value, selector, path) if isinstance(value, list) else None
            value = None if at is None else value[at]
    return value


def _as_typed(member: Member, path: str, value: object) -> object:
    """The JSON value that was meant. Raises NotPlacedError for a single one that its member cannot hold."""
    if value is None or (isinstance(value, str) and not value.strip()):
        return None
    if member.kind is None:
        return value
    try:
        meant = member.kind.parse(value) if isinstance(value, str) else value
        member.kind.read(meant)
    except (MisreadError, QuantityError, TimeError) as error:
        raise NotPlacedError(Fault(path, error.wording_id, error.blanks)) from None
    return meant


def _without_nulls(value: object) -> object:
    if isinstance(value, dict):
        return {name: _without_nulls(member) for name, member in value.items() if member is not None}
    if isinstance(value, list):
        return [_without_nulls(item) for item in value]
    return value


def _owner(
    document: dict[str, Any], steps: Sequence[Step], path: str, create: bool
) -> tuple[dict[str, Any] | None, Step]:
    """The object that holds the last step; objects on the way are made if `create`, items never."""
    owner = document
    for name, selector in steps[:-1]:
        if selector is None:
            if owner.get(name) is None and not create:
                return None, steps[-1]
            owner = owner.setdefault(name, {})
            if not isinstance(owner, dict):
                raise NotPlacedError(Fault(path, "edit/not_a_path", {"path": path}))
            continue
        items = _items(owner, name)
        at = _index(items, selector, path)
        if at is None and not create:
            return None, steps[-1]
        if at is None:
            raise NotPlacedError(Fault(path, "edit/no_such_item", {"item": selector, "where": name}))
        owner = items[at]
    return owner, steps[-1]


def _put(owner: dict[str, Any], step: Step, value: object, path: str) -> None:
    name, selector = step
    if selector is None:
        if value is None:
            owner.pop(name, None)
        else:
            owner[name] = value
        return
    items = _items(owner, name)
    at = _index(items, selector, path)
    if value is not None and not selector.isdigit() and isinstance(value, dict):
        value = _with_id(value, selector, path)
    if value is None:
        if at is None:
            return
        del items[at]
        if not items:
            del owner[name]
            return
    elif at is not None:
        items[at] = value
    elif selector.isdigit() and int(selector) != len(items):
        raise NotPlacedError(Fault(path, "edit/no_such_item", {"item": selector, "where": name}))
    else:
        items.append(value)
    owner[name] = items


def _items(owner: dict[str, Any], name: str) -> list[Any]:
    items = owner.get(name)
    return list(items) if isinstance(items, list) else []


def _with_id(value: dict[str, Any], item_id: str, path: str) -> dict[str, Any]:
    if value.get("id", item_id) != item_id:
        raise NotPlacedError(Fault(path, "edit/other_id", {"got": str(value["id"]), "item": item_id}))
    return {"id": item_id, **value}


def _index(items: list[Any], selector: str, path: str) -> int | None:
    """Where the item stands: by id; by index if that item has no id."""
    if selector.isdigit():
        at = int(selector)
        has_id = at < len(items) and isinstance(items[at], dict) and items[at].get("id")
        return at if at < len(items) and not has_id else None
    found = [at for at, item in enumerate(items) if isinstance(item, dict) and item.get("id") == selector]
    if len(found) > 1:
        raise NotPlacedError(Fault(path, "edit/item_twice", {"item": selector, "where": path}))
    return found[0] if found else None
