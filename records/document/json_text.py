"""Strict JSON: bounded in bytes and depth before it is parsed, no duplicate keys, no half characters."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
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
        _refuse_odd(data, bounds, path)
        _refuse_size(len(json.dumps(data, ensure_ascii=False).encode()), bounds, path)
        return data
    text = _decoded(data, bounds, path)
    _refuse_depth(text, bounds, path)
    value = _parsed(text, path)
    _refuse_odd(value, bounds, path)
    return value


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


def _refuse_odd(value: object, bounds: Bounds, path: str) -> None:
    """Refuse what parses, but is no JSON that can be kept: see the wordings."""
    for where, depth, item in _walk(value, path, 1):
        if depth > bounds.most_depth:
            _refuse(path, "document/too_deep", {"most": str(bounds.most_depth)})
        if isinstance(item, dict) and (odd := [key for key in item if not isinstance(key, str)]):
            _refuse(where, "document/not_a_json_value", {"got": shown(odd[0])})
        if isinstance(item, _Twice):
            _refuse(where, "document/duplicate_member", {"member": shown(item.key)})
        if isinstance(item, str) and _HALF_CHARACTER.search(item):
            _refuse(where, "document/half_character", {})
        if item != item or item in (float("inf"), float("-inf")) or not isinstance(item, _JSON_TYPES):
            _refuse(where, "document/not_a_json_value", {"got": shown(item)})


_JSON_TYPES = (dict, list, str, int, float, bool, type(None))


def _walk(value: object, path: str, depth: int) -> Iterator[tuple[str, int, object]]:
    """Every value in the tree with its path and depth; keys come as values of their object."""
    waiting = [(path, depth, value)]
    while waiting:
        where, level, item = waiting.pop()
        nested = isinstance(item, dict | list)
        yield where, level if nested else level - 1, item
        if isinstance(item, dict):
            for key, member in item.items():
                yield where, level, key
                waiting.append((member_path(where, key), level + 1, member))
        elif isinstance(item, list):
            waiting.extend((f"{where}[{index}]", level + 1, member) for index, member in enumerate(item))


def member_path(path: str, name: object) -> str:
    """The path of a member of the object at `path`; a name that is no plain word is quoted."""
    plain = isinstance(name, str) and _PLAIN_NAME.fullmatch(name)
    part = name if plain else shown(name)
    return f"{path}.{part}" if path else str(part)
