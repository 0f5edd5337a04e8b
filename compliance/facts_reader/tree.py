"""The members of a document as a tree of facts, each with its path; times, days and numbers read."""

from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction
from functools import cache
from typing import Any

from compliance.rulebook.facts import Branch, Items, Leaf, Node
from records.document.members import Member, members_of
from records.document.types import Part
from shared.times import read_time

_READERS: Mapping[str, Callable[[Any], Any]] = {
    "time": read_time,
    "day": date.fromisoformat,
    "number": Fraction,
    "whole": Fraction,
}
LEFT_OUT = frozenset({"earlier", "signatures"})
"""Members that no rule reads by path: earlier documents are measured, signatures are verified elsewhere."""


def tree_of(part: Part, path: str) -> Branch:
    """All members of an object that are there."""
    members = {}
    for name, attribute, member in _plan(type(part)):
        value = getattr(part, attribute)
        if value is not None:
            members[name] = _node(value, member, f"{path}.{name}" if path else name)
    return Branch(path, members)


def _node(value: Any, member: Member, path: str) -> Node:
    if member.part:
        return tree_of(value, path)
    if member.item:
        item = member.item
        return Items(tuple(_node(one, item, f"{path}[{n}]") for n, one in enumerate(value)), (path,))
    reader = _READERS.get(member.kind.name) if member.kind else None
    return Leaf(reader(value) if reader else value, (path,))


@cache
def _plan(part: type[Part]) -> tuple[tuple[str, str, Member], ...]:
    attributes = {field.alias or name: name for name, field in part.model_fields.items()}
    return tuple(
        (name, attributes[name], member) for name, member in members_of(part).items() if name not in LEFT_OUT
    )
