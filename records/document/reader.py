"""The strict reader: bytes to a treatment document, or every fault with its path."""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from records.document.faults import DocumentFaults, Fault
from records.document.json_text import Bounds, load, member_path
from records.document.kind import shown
from records.document.members import Member, member_at, members_of
from records.document.paths import pattern_of
from records.document.references import disagreements
from records.document.types import LIST_ITEMS, Part, TreatmentDocument

DOCUMENT_BOUNDS = Bounds(most_bytes=1024 * 1024)

Checks = Callable[[object, Sequence[Fault]], list[Fault]]
Read = TypeVar("Read", bound=Part)


def read(data: bytes | str | dict[str, Any]) -> TreatmentDocument:
    """The treatment document in a JSON text (or in its parsed object).

    Raises DocumentFaults with every fault: of shape first, then of names and references that disagree. What
    is missing is no fault, and neither are sums that disagree: these are for the rules to say.
    """
    return read_as(TreatmentDocument, load(data, DOCUMENT_BOUNDS), disagreements)


def read_as(part: type[Read], value: object, checks: Checks, prefix: str = "") -> Read:
    """A JSON value as an object of this type; `prefix` stands before the path of each fault.

    Raises DocumentFaults.
    """
    try:
        read_part = part.model_validate(value)
        faults: list[Fault] = []
    except ValidationError as error:
        faults = [_fault(part, details) for details in error.errors(include_url=False)]
    faults += checks(value, faults)
    if faults:
        raise DocumentFaults([moved(fault, prefix) for fault in faults])
    return read_part


def moved(fault: Fault, prefix: str) -> Fault:
    """The fault with a path that begins at `prefix`."""
    if not prefix:
        return fault
    path = f"{prefix}.{fault.path}" if fault.path else prefix
    return Fault(path, fault.wording, fault.blanks)


def _fault(root: type[Part], details: ErrorDetails) -> Fault:
    path = _path(details["loc"])
    match details["type"]:
        case "misread":
            context = details["ctx"]
            return Fault(path, context["wording"], context["blanks"])
        case "missing":
            return Fault(path, "document/missing")
        case "too_long":
            blanks = {"most": str(LIST_ITEMS), "count": str(len(details["input"]))}
            return Fault(path, "document/too_many", blanks)
        case "list_type":
            return Fault(path, "document/not_a_list", {"got": shown(details["input"])})
        case "extra_forbidden":
            owner = _part_at(root, _path(details["loc"][:-1]))
            return Fault(path, "document/unknown_member", {"allowed": _names(owner)})
        case "model_type":
            owner = _part_at(root, path)
            blanks = {"allowed": _names(owner), "got": shown(details["input"])}
            return Fault(path, "document/not_an_object", blanks)
    raise AssertionError(f"a fault without words: {details['type']}")


def _path(loc: tuple[int | str, ...]) -> str:
    path = ""
    for step in loc:
        path = f"{path}[{step}]" if isinstance(step, int) else member_path(path, step)
    return path


def _part_at(root: type[Part], path: str) -> type[Part]:
    if not path:
        return root
    member: Member = member_at(pattern_of(path), root)
    assert member.part  # noqa: S101 - pydantic names only objects here
    return member.part


def _names(part: type[Part]) -> str:
    return ", ".join(members_of(part))
