"""The description of the API as plain data for a page: groups of calls, and the shapes they speak of. Pure."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

Json = dict[str, Any]
_CHOICE = re.compile(r"^\* `(.*)` - (.*)$", re.MULTILINE)
"""So drf-spectacular writes a choice and its words into a description."""


@dataclass(frozen=True)
class Member:
    """One member of a shape, or one parameter of a call; `kind` in a few letters, `shape` where it has one, and
    `choices` with their words."""

    name: str
    kind: str
    required: bool
    about: str = ""
    shape: str = ""
    place: str = ""
    choices: list[tuple[str, str]] = field(default_factory=list)


@dataclass(frozen=True)
class Call:
    method: str
    path: str
    id: str
    summary: str
    about: str
    scope: str
    parameters: list[Member]
    body: str
    answers: list[tuple[str, str]]


@dataclass(frozen=True)
class Described:
    groups: list[tuple[str, list[Call]]] = field(default_factory=list)
    shapes: list[tuple[str, str, list[Member]]] = field(default_factory=list)


def described(schema: Json) -> Described:
    schema = _with_choices(schema, schema["components"]["schemas"])
    groups: dict[str, list[Call]] = {}
    for path, calls in schema["paths"].items():
        for method, call in calls.items():
            groups.setdefault(call["tags"][0], []).append(_call(path, method, call))
    shapes = [
        (name, shape.get("description", ""), list(_members(shape)))
        for name, shape in sorted(schema["components"]["schemas"].items())
        if "properties" in shape
    ]
    return Described(list(groups.items()), shapes)


def _call(path: str, method: str, call: Json) -> Call:
    parameters = [
        _member(each["name"], each["schema"], each.get("required", False), each.get("description"), each["in"])
        for each in call.get("parameters", [])
    ]
    body = _shape_in(call.get("requestBody", {}))
    answers = [(code, _shape_in(each)) for code, each in sorted(call["responses"].items()) if code[0] == "2"]
    return Call(
        method.upper(), path, call["operationId"], call.get("summary", ""), call.get("description", ""),
        call.get("x-scope", ""), parameters, body, answers,
    )  # fmt: skip


def _members(shape: Json) -> Iterator[Member]:
    wanted = shape.get("required", [])
    for name, each in shape["properties"].items():
        yield _member(name, each, name in wanted, each.get("description"))


def _member(name: str, schema: Json, required: bool, about: str | None, place: str = "") -> Member:
    of_items = schema.get("items", {})
    said = "\n".join([about or "", schema.get("x-choices", ""), of_items.get("x-choices", "")])
    choices = list(dict(_CHOICE.findall(said)).items())
    if choices:
        schema = {**schema, "items": {**of_items, "enum": None}, "enum": None}
    about = _CHOICE.sub("", said).strip()
    return Member(name, _kind(schema), required, about, _shape_of(schema), place, choices)


def _with_choices(part: Any, shapes: Json) -> Any:
    """The same with each list of choices where it is spoken of."""
    if isinstance(part, list):
        return [_with_choices(each, shapes) for each in part]
    if not isinstance(part, dict):
        return part
    inner = part.get("allOf", part.get("oneOf", [part]))
    named = shapes.get(str(inner[0].get("$ref", "")).rpartition("/")[2], {}) if inner else {}
    if "enum" in named:
        rest = {name: each for name, each in part.items() if name not in ("$ref", "allOf", "oneOf")}
        return {"type": named["type"], "enum": named["enum"], "x-choices": named.get("description", ""), **rest}
    return {name: _with_choices(each, shapes) for name, each in part.items()}


def _shape_in(message: Json) -> str:
    """The shape of what is sent or answered; '' where it has none of its own."""
    for each in message.get("content", {}).values():
        return _shape_of(each.get("schema", {}))
    return ""


def _shape_of(schema: Json) -> str:
    if "$ref" in schema:
        return str(schema["$ref"]).rpartition("/")[2]
    inner = [schema.get("items", {}), *schema.get("allOf", []), *schema.get("oneOf", [])]
    return next((shape for each in inner if (shape := _shape_of(each))), "") if any(inner) else ""


def _kind(schema: Json) -> str:
    if schema.get("type") == "array":
        return f"array of {_kind(schema.get('items', {}))}"
    if schema.get("enum"):
        return " | ".join(str(each) for each in schema["enum"])
    kinds = schema.get("type", "")
    kind = " or ".join(kinds) if isinstance(kinds, list) else str(kinds)
    return f"{kind}, {schema['format']}" if "format" in schema else kind
