"""Check plain documents with the packs that are in use, and look at the findings by rule."""

from typing import Any

from compliance.check import check_document
from records.document.context import read_context
from records.document.reader import read


def check(document: dict[str, Any], context: dict[str, Any]) -> dict[str, Any]:
    """The answer of the command, as plain data in English."""
    return check_document(read(document), read_context(context), None).to_json("en")


def by_rule(checked: dict[str, Any]) -> dict[str, list[dict[str, Any]]]:
    """The findings of an answer, under the id of their rule."""
    found: dict[str, list[dict[str, Any]]] = {}
    for finding in checked["findings"]:
        found.setdefault(finding["rule"], []).append(finding)
    return found


def findings_by_rule(document: dict[str, Any], context: dict[str, Any]) -> dict[str, list[dict[str, Any]]]:
    """The findings of a check, under the id of their rule."""
    return by_rule(check(document, context))
