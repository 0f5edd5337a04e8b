"""What each column of each table means, as rows of a table of its own, in both languages."""

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils import translation

from records.leaving.tables import Table

NAMES = (
    "table", "table (en)", "table (es)", "column", "column (en)", "column (es)", "kind", "points to",
    "words (en)", "words (es)", "in the CSV",
)  # fmt: skip
KINDS = {
    "BinaryField": "bytes, base64",
    "DateTimeField": "moment, RFC 3339",
    "DateField": "day",
    "TimeField": "time of day",
    "UUIDField": "id",
    "DecimalField": "number",
    "ProjectedQuantityField": "number, in the base unit of its dimension",
    "QuantityField": "amount with its unit",
    "JSONField": "JSON",
    "BooleanField": "true or false",
}


def meanings(tables: Iterable[Table]) -> Iterator[list[str]]:
    for table in tables:
        for field in table.fields:
            yield _meaning(table, field)


def _meaning(table: Table, field: Any) -> list[str]:
    own = field.target_field if field.is_relation else field
    kind = KINDS.get(type(own).__name__) or KINDS.get(own.get_internal_type(), "")
    return [
        table.label,
        *_in_both(table.model._meta.verbose_name),
        field.attname,
        *_in_both(field.verbose_name),
        kind
        or ("text" if "Char" in own.get_internal_type() or "Text" in own.get_internal_type() else "number"),
        field.related_model._meta.label_lower if field.is_relation else "",
        *(_words(field, language) for language in ("en", "es")),
        "no" if kind == KINDS["BinaryField"] else "yes",
    ]


def _in_both(words: Any) -> list[str]:
    said = []
    for language in ("en", "es"):
        with translation.override(language):
            said.append(str(words))
    return said


def _words(field: Any, language: str) -> str:
    with translation.override(language):
        return "; ".join(f"{value} = {label}" for value, label in field.choices or ())
