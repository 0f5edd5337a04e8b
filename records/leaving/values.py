"""A row's values as JSON, and back: what a column holds is told by its kind."""

from base64 import b64decode
from collections.abc import Iterable, Sequence
from typing import Any

import msgspec
from django.core.exceptions import ValidationError

from records.backup.wordings import BackupError
from shared.quantities import Quantity

_encode = msgspec.json.Encoder().encode


def _as_typed(value: Any) -> Any:
    return f"{value.value} {value.unit}" if isinstance(value, Quantity) else value


def as_line(columns: Sequence[str], row: Iterable[Any]) -> bytes:
    """One row as one line: moments in RFC 3339, bytes in base64, decimal numbers as text."""
    return _encode(dict(zip(columns, map(_as_typed, row), strict=True))) + b"\n"


def json_line(value: Any) -> bytes:
    return _encode(value) + b"\n"


def in_a_cell(value: Any) -> str:
    """A value as it stands in a table for people."""
    if value is None or isinstance(value, bytes | memoryview):
        return ""
    plain = msgspec.to_builtins(_as_typed(value))
    return plain if isinstance(plain, str) else _encode(plain).decode()


def read_line(line: bytes, fields: dict[str, Any], name: str) -> dict[str, Any]:
    """The values of one row by column. Raises BackupError for what is no row of such a table."""
    try:
        stated = msgspec.json.decode(line)
        return {column: read_value(fields[column], value) for column, value in stated.items()}
    except (ValueError, TypeError, KeyError, AttributeError, ValidationError) as error:
        raise BackupError("restore/unreadable_row", name=name, why=str(error)) from error


def read_value(field: Any, value: Any) -> Any:
    kind = field.get_internal_type()
    if value is None or kind == "JSONField":
        return value
    if kind == "BinaryField":
        return b64decode(value, validate=True)
    return (field.target_field if field.is_relation else field).to_python(value)
