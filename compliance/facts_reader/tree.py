"""The members of a document as a tree of facts, each with its path; times, days and numbers read."""

from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction
from functools import cache
from typing import Any

from compliance.rulebook.facts import Branch, Items, Leaf, Node
from records.document.members import Member, members_of
from records.document.registration import is_epa_number, registration_key
from records.document.types import Part, Product
from shared.times import read_time
from shared.wording import Wording

_READERS: Mapping[str, Callable[[Any], Any]] = {
    "time": read_time,
    "day": date.fromisoformat,
    "number": Fraction,
    "whole": Fraction,
}
_Builder = Callable[[Any, str], Node]
_REGISTRATION = "registration_number"
_EXEMPT_WITH_NUMBER = Wording(
    "entered as exempt, with a federal registration number beside it",
    "anotado como exento, con un número de registro federal al lado",
)
LEFT_OUT = frozenset({"earlier", "signatures"})
"""Members that no rule reads by path: earlier documents are measured, signatures are verified elsewhere."""


def tree_of(part: Part, path: str) -> Branch:
    """All members of an object that are there; a registration number such as `n/a` is none."""
    members, before = {}, f"{path}." if path else ""
    for name, attribute, build in _plan(type(part)):
        value = getattr(part, attribute)
        if value is not None and not (name == _REGISTRATION and registration_key(value) is None):
            members[name] = build(value, before + name)
    if isinstance(part, Product) and exempt_with_number(part):
        about = (before + _REGISTRATION, f"{before}regime")
        members["regime"] = Leaf(None, about, about, _EXEMPT_WITH_NUMBER, stated=True)
    return Branch(path, members)


def exempt_with_number(line: Product) -> bool:
    """Whether a line is entered as exempt from registration and carries a federal registration number."""
    return line.regime == "exempt" and is_epa_number(line.registration_number)


@cache
def _plan(part: type[Part]) -> tuple[tuple[str, str, _Builder], ...]:
    """For each member of an object that rules read: its name, the attribute that holds it, what builds it."""
    attributes = {field.alias or name: name for name, field in part.model_fields.items()}
    return tuple(
        (name, attributes[name], _builder(member))
        for name, member in members_of(part).items()
        if name not in LEFT_OUT
    )


def _builder(member: Member) -> _Builder:
    if member.part:
        return tree_of
    if member.item:
        build = _builder(member.item)
        return lambda several, path: Items(
            tuple([build(one, f"{path}[{place}]") for place, one in enumerate(several)]), (path,)
        )
    reader = _READERS.get(member.kind.name) if member.kind else None
    if reader is None:
        return lambda value, path: Leaf(value, (path,))
    return lambda value, path: Leaf(reader(value), (path,))
