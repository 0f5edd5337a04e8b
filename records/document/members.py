"""What a member may hold, looked up by its path: for faults, forms and edits."""

from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, get_args, get_origin

from records.document.kind import Kind
from records.document.paths import Step, steps_of
from records.document.types import Part, TreatmentDocument


@dataclass(frozen=True)
class Member:
    """One member: just one of `kind` (a single value), `part` (an object) and `item` (a list) is set.

    `owner` is the object type that names it, `name` its name there; an item has those of its list.
    """

    owner: type[Part]
    name: str
    kind: Kind | None = None
    part: type[Part] | None = None
    item: "Member | None" = None

    @property
    def has_ids(self) -> bool:
        """Whether it is a list whose items can carry an id."""
        return bool(self.item and self.item.part and "id" in self.item.part.model_fields)


def member_at(path: str, root: type[Part] = TreatmentDocument) -> Member:
    """The member at a path by ids or indices, or at a pattern: `surfaces[].treated_area`.

    Raises KeyError if there is no such member.
    """
    try:
        steps = steps_of(path)
    except ValueError as error:
        raise KeyError(path) from error
    part: type[Part] | None = root
    for name, selector in steps:
        if part is None:
            raise KeyError(path)
        member = _step(part, (name, selector), path)
        part = member.part
    return member


def _step(part: type[Part], step: Step, path: str) -> Member:
    name, selector = step
    member = members_of(part).get(name)
    if member and selector is not None:
        member = member.item
    if member is None:
        raise KeyError(path)
    return member


@cache
def members_of(part: type[Part]) -> dict[str, Member]:
    """The members of an object, by the names that they have in JSON, in order."""
    members = {}
    for name, field in part.model_fields.items():
        shown_name = field.alias or name
        annotation = field.annotation
        if field.metadata:
            annotation = Annotated[(annotation, *field.metadata)]  # type: ignore[assignment]
        members[shown_name] = _member(part, shown_name, annotation)
    return members


def _member(owner: type[Part], name: str, annotation: Any) -> Member:
    kind = None
    while True:
        if get_origin(annotation) is Annotated:
            annotation, *marks = get_args(annotation)
            kind = next((mark for mark in marks if isinstance(mark, Kind)), kind)
            if kind:
                return Member(owner, name, kind=kind)
        elif type(None) in get_args(annotation):
            (annotation,) = (choice for choice in get_args(annotation) if choice is not type(None))
        elif get_origin(annotation) is list:
            return Member(owner, name, item=_member(owner, name, get_args(annotation)[0]))
        else:
            return Member(owner, name, part=annotation)
