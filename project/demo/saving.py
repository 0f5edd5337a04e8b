"""Rows saved as a form would save them, and plain values from the YAML reader's."""

from typing import Any


def saved(row: Any) -> Any:
    """The row, validated as a form would and saved."""
    row.full_clean()
    row.save()
    return row


def plain(value: Any) -> Any:
    """Text, lists and mappings of the YAML reader as ordinary ones, for JSON columns."""
    if isinstance(value, dict):
        return {str(name): plain(member) for name, member in value.items()}
    if isinstance(value, list):
        return [plain(member) for member in value]
    return str(value)
