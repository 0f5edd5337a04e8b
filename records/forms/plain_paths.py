"""Members by plain paths within the document that a form is laid over."""

from typing import Any

from records.document.paths import steps_of


def join(path: str, member: str) -> str:
    return f"{path}.{member}" if path else member


def value_at(owner: Any, member: str) -> Any:
    """The value at a path of plain names within an object, None where there is none."""
    for name, _selector in steps_of(member):
        owner = owner.get(name) if isinstance(owner, dict) else None
    return owner
