"""The JSON Schemas of what lies in a bundle: treatment document, follow-up, file of a record. Pure."""

from collections.abc import Iterator
from typing import Any

from records.document.follow_up import FollowUp
from records.document.record_file import SCHEMA
from records.document.schema import json_schema
from records.document.types import TreatmentDocument

_DIGEST = {"type": "string", "pattern": "^sha256:[0-9a-f]{64}$"}


def schemas() -> Iterator[tuple[str, dict[str, Any]]]:
    """Name of the file, and schema (2020-12)."""
    yield "schema/treatment-document.json", json_schema(TreatmentDocument)
    yield "schema/follow-up.json", json_schema(FollowUp)
    yield "schema/record-file.json", record_file_schema()


def record_file_schema() -> dict[str, Any]:
    """Of `records/*.json`: the signed record, its sections as the treatment document has them, and what lies
    beside. A section that is withheld is not there; its digest is."""
    document, follow_up = json_schema(TreatmentDocument), json_schema(FollowUp)
    sections = {name: each for name, each in document["properties"].items() if name != "record"}
    return {
        "$schema": document["$schema"],
        "$defs": document["$defs"] | follow_up["$defs"] | {"FollowUpOfRecord": _own(follow_up)},
        "type": "object",
        "required": ["schema", "record", "sections", "salts"],
        "properties": {
            "schema": {"const": SCHEMA},
            "record": _signed_record(document["properties"]["record"]),
            "sections": {"type": "object", "additionalProperties": False, "properties": sections},
            "salts": {"type": "object", "additionalProperties": {"type": "string"}},
            "follow_ups": {"type": "array", "items": {"$ref": "#/$defs/FollowUpOfRecord"}},
            "keys": {"type": "object", "additionalProperties": {"type": "string"}},
            "key_changes": {"type": "array", "items": {"type": "object"}},
            **{name: {"type": "object"} for name in ("entry", "superseded_by", "erased", "seal")},
        },
        "additionalProperties": False,
    }


def _signed_record(stated: dict[str, Any]) -> dict[str, Any]:
    return {
        "type": "object",
        "required": ["schema", "record", "sections", "signatures"],
        "properties": {
            "schema": {"const": "signed-record/1"},
            "record": stated,
            "sections": {"type": "object", "additionalProperties": _DIGEST},
            "answers": {"type": "array", "items": {"type": "object"}},
            "check": {"type": ["object", "null"]},
            "signatures": {"type": "array", "minItems": 1, "items": {"type": "object"}},
        },
    }


def _own(schema: dict[str, Any]) -> dict[str, Any]:
    """A schema that lies within another one: whose own definitions are there already."""
    return {name: part for name, part in schema.items() if name not in ("$schema", "$defs")}
