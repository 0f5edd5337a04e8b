"""Values of a record file by their place, in the words of a table's cell. Pure."""

from collections.abc import Iterator, Mapping
from typing import Any

Json = Mapping[str, Any]


def items_of(file: Json, each: str) -> Iterator[dict[str, Any]]:
    """For each item of the list at this place: what the places on the way to it hold, the file under ``."""
    lists = each.split("[]")[:-1]
    yield from _below({"": file}, "", lists)


def _below(chain: dict[str, Any], place: str, lists: list[str]) -> Iterator[dict[str, Any]]:
    if not lists:
        yield chain
        return
    found = member(chain[place], lists[0].lstrip("."))
    below = f"{place}{lists[0]}[]"
    for number, item in enumerate(found if isinstance(found, list) else (), start=1):
        yield from _below({**chain, below: item, f"#{below}": number}, below, lists[1:])


def value_at(chain: Mapping[str, Any], place: str) -> Any:
    """What stands at the place: below the innermost item that it names."""
    items = [
        name for name in chain if not name.startswith("#") and place.startswith(f"{name}." if name else "")
    ]
    nearest = max(items, key=len)
    return member(chain[nearest], place[len(nearest) :].lstrip("."))


def member(value: Any, path: str) -> Any:
    """The member of plain JSON at a dotted path; None where it is not there."""
    for name in path.split("."):
        value = value.get(name) if isinstance(value, Mapping) else None
    return value


def said(value: Any) -> str:
    """A value as it stands in a cell: lists with semicolons, nothing for what is not there."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return "; ".join(filter(None, map(_said_item, value)))
    return str(value)


def _said_item(item: Any) -> str:
    """Ingredients as name, percent and basis, signatures by who gave them, all else as it is."""
    if not isinstance(item, Mapping):
        return said(item)
    if "percent" in item or "basis" in item:
        percent = f"{item['percent']} %" if item.get("percent") else ""
        return " ".join(filter(None, (item.get("name"), percent, item.get("basis"))))
    return str(item.get("by") or item.get("name") or "")


def quantity_said(value: Any) -> tuple[str, str]:
    """Number and unit as entered."""
    if not isinstance(value, Mapping):
        return "", ""
    return str(value.get("value") or ""), str(value.get("unit") or "")
