"""Columns that are written into documents as they are: refused where a document would not take them."""

from collections.abc import Iterable, Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import get_language

from records.document.faults import DocumentFaults
from records.document.reader import read
from records.document.types import DOCUMENT_SCHEMA


def refuse_unwritable(columns: Iterable[str], **sections: Mapping[str, Any]) -> None:
    """Raise ValidationError, column by column, for what a document would not read.

    `sections` are sections of a document that hold the columns' values under the columns' names; empty values
    count as left out.
    """
    written = {name: _filled(section) for name, section in sections.items()}
    try:
        read({"schema": DOCUMENT_SCHEMA, "record": {}, **written})
    except DocumentFaults as error:
        language = (get_language() or "en")[:2]
        columns = list(columns)
        raise ValidationError(
            {
                next(column for column in columns if column in fault.path): fault.sentence(language)
                for fault in error.faults
            }
        ) from error


def _filled(section: Mapping[str, Any]) -> dict[str, Any]:
    parts = {name: _filled(part) if isinstance(part, dict) else part for name, part in section.items()}
    return {name: part for name, part in parts.items() if part not in ("", None, [], {})}
