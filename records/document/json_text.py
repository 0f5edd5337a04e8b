"""Strict JSON: bounded in bytes and depth before it is parsed, no duplicate keys, no half characters."""

import json
import re
from dataclasses import dataclass
from math import isfinite
from typing import Any, NoReturn

from records.document.faults import DocumentFaults, Fault
from records.document.kind import shown
from shared.wording import Blanks

DEPTH = 20

_STRING_OR_BRACKET = re.compile(r'"(?:[^"\\]++|\\.)*+"?|[\[\]{}]', re.DOTALL)
_PLAIN_NAME = re.compile(r"[A-Za-z0-9_-]{1,60}")
_HALF_CHARACTER = re.compile("[\ud800-\udfff]")


@dataclass(frozen=True)
class Bounds:
    """How much is read at most, and how deep."""

    most_bytes: int
    most_depth: int = DEPTH


def load(data: bytes | str | dict[str, Any], bounds: Bounds, path: str = "") -> object:
    """The JSON value of a text, or an already parsed object looked through as strictly.

    Raises DocumentFaults with one fault; `path` is where the value stands.
    """
    if isinstance(data, dict):
        look_through(data, bounds, path)
        return data
    text = _decoded(data, bounds, path)
    _refuse_depth(text, bounds, path)
    value = _parsed(text, path)
    _refuse_odd(value, bounds, path)
    return value


def look_through(value: object, bounds: Bounds, path: str) -> int:
    """The bytes of an already parsed value, which is as strictly looked through as a text.

    Raises DocumentFaults with one fault.
    """
    _refuse_odd(value, bounds, path)
    size = len(json.dumps(value, ensure_ascii=False).encode())
    _refuse_size(size, bounds, path)
    return size


def _refuse(path: str, wording: str, blanks: Blanks) -> NoReturn:
    raise DocumentFaults([Fault(path, wording, blanks)])


def _refuse_size(size: int, bounds: Bounds, path: str) -> None:
    if size > bounds.most_bytes:
        _refuse(path, "document/too_big", {"size": str(size), "most": str(bounds.most_bytes)})


def _decoded(data: bytes | str, bounds: Bounds, path: str) -> str:
    _refuse_size(len(data), bounds, path)
    if isinstance(data, str):
        _refuse_size(len(data.encode("utf-8", "surrogatepass")), bounds, path)
        text = data
    else:
        try:
            text = data.decode("utf-8")
        except UnicodeDecodeError as error:
            _refuse(path, "document/not_utf8", {"at": str(error.start)})
    if text.startswith("\ufeff"):
        _refuse(path, "document/byte_order_mark", {})
    return text


def _refuse_depth(text: str, bounds: Bounds, path: str) -> None:
    depth = 0
    for match in _STRING_OR_BRACKET.finditer(text):
        if match[0] in ("{", "["):
            depth += 1
        elif match[0] in ("}", "]"):
            depth -= 1
        if depth > bounds.most_depth:
            _refuse(path, "document/too_deep", {"most": str(bounds.most_depth)})


class _Twice(dict[str, Any]):
    """An object in whose text a key stood twice."""

    key: str


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    members = dict(pairs)
    if len(members) == len(pairs):
        return members
    keys = [key for key, _ in pairs]
    twice = _Twice(members)
    twice.key = next(key for key in keys if keys.count(key) > 1)
    return twice


class _NotAValueError(ValueError):
    pass


def _constant(name: str) -> NoReturn:
    raise _NotAValueError(name)


def _parsed(text: str, path: str) -> object:
    try:
        return json.loads(text, object_pairs_hook=_object, parse_constant=_constant)
    except json.JSONDecodeError as error:
        _refuse(path, "document/not_json", {"line": str(error.lineno), "column": str(error.colno)})
    except _NotAValueError as error:
        _refuse(path, "document/not_a_json_value", {"got": str(error)})
    except ValueError:  # Python's own bound on the digits of an integer
        _refuse(path, "document/number_too_long", {})


Way = tuple["Way", str | int] | None
"""Where a value stands: the way to what holds it, and its name or index there."""


def _refuse_odd(value: object, bounds: Bounds, path: str) -> None:
    """Refuse what parses, but is no JSON that can be kept: see the wordings."""
    waiting: list[tuple[object, int, Way]] = [(value, 1, None)]
    while waiting:
        item, depth, way = waiting.pop()
        if isinstance(item, dict):
            if odd := _odd_key(item):
                _refuse(_path(path, way), *odd)
            waiting += [(member, depth + 1, (way, name)) for name, member in item.items()]
        elif isinstance(item, list):
            waiting += [(member, depth + 1, (way, index)) for index, member in enumerate(item)]
        else:
            if odd := _odd_scalar(item):
                _refuse(_path(path, way), *odd)
            continue
        if depth > bounds.most_depth:
            _refuse(path, "document/too_deep", {"most": str(bounds.most_depth)})


def _odd_key(members: dict[Any, Any]) -> tuple[str, Blanks] | None:
    if isinstance(members, _Twice):
        return "document/duplicate_member", {"member": shown(members.key)}
    for key in members:
        if not isinstance(key, str):
            return "document/not_a_json_value", {"got": shown(key)}
        if _HALF_CHARACTER.search(key):
            return "document/half_character", {}
    return None


def _odd_scalar(value: object) -> tuple[str, Blanks] | None:
    if isinstance(value, str):
        if "\0" in value:
            return "document/control_character", {"got": "U+0000"}
        return ("document/half_character", {}) if _HALF_CHARACTER.search(value) else None
    if value is None or isinstance(value, int) or (isinstance(value, float) and isfinite(value)):
        return None
    return "document/not_a_json_value", {"got": shown(value)}


def _path(path: str, way: Way) -> str:
    if way is None:
        return path
    before = _path(path, way[0])
    return f"{before}[{way[1]}]" if isinstance(way[1], int) else member_path(before, way[1])


def member_path(path: str, name: object) -> str:
    """The path of a member of the object at `path`; a name that is no plain word is quoted."""
    plain = isinstance(name, str) and _PLAIN_NAME.fullmatch(name)
    part = name if plain else shown(name)
    return f"{path}.{part}" if path else str(part)
