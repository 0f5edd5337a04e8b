"""What a device may choose from without a connection: each row as it is written on the days to come."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from records.document.canonical import as_json
from records.document.faults import DocumentFaults
from records.document.reader import read
from records.document.types import DOCUMENT_SCHEMA
from records.forms.choices import row_part, rows_of
from records.forms.row_facts import facts_of
from records.models import Firm
from records.stock import lots_by_product, lots_in_use
from shared.canonical import canonical_bytes
from shared.digests import digest

Json = dict[str, Any]
Span = tuple[date, Json]
"""A row's part of the document, and since when it is written so."""
KINDS = ("people", "rigs", "labels")
DAYS_AHEAD = timedelta(days=14)
DAY = timedelta(days=1)
MOST = 200
"""Of one kind."""


def spans_of_rows(firm: Firm, today: date) -> dict[str, list[tuple[Any, list[Span]]]]:
    """The rows of each kind, each with its part for today and wherever it is another one until the last day."""
    return {kind: [(row, _spans(kind, row, today)) for row in rows_of(kind, firm)[:MOST]] for kind in KINDS}


def version_of(firm: Firm, today: date) -> str:
    """Another one as soon as a row, or what is written of it on one of the days, is."""
    said = {
        kind: [[row.name, *([since.isoformat(), part] for since, part in spans)] for row, spans in rows]
        for kind, rows in spans_of_rows(firm, today).items()
    }
    lots = list(lots_in_use(firm).order_by("pk").values_list("number", flat=True))
    return digest(canonical_bytes([said, lots]))


def kept_choices(firm: Firm, today: date, language: str) -> Json:
    """The rows as a device keeps them; one that can't stand in a document is left out."""
    kept = {
        kind: [kept for row, spans in rows if (kept := _kept(kind, row, spans, language))]
        for kind, rows in spans_of_rows(firm, today).items()
    }
    lots = lots_by_product(firm, language)
    for product in kept["labels"]:
        product["lots"] = lots.get(product["id"], [])
    return kept


def shown_as(part: Json) -> str:
    """A row's part by its digest: a device says so what it has shown of the row."""
    return digest(canonical_bytes(part))


def _spans(kind: str, row: Any, today: date) -> list[Span]:
    days = (day for day in _turns(kind, row) if today < day <= today + DAYS_AHEAD)
    return [(day, row_part(kind, row, day)) for day in (today, *sorted(set(days)))]


def _turns(kind: str, row: Any) -> Iterator[date]:
    """The days from which something else is in force of the row."""
    if kind == "rigs":
        yield from row.calibrations.values_list("on", flat=True)
        return
    dated = row.licences if kind == "people" else row.labels
    for since, last in dated.values_list("valid_from", "valid_to"):
        yield from (day for day in (since, last and last + DAY) if day)


def _kept(kind: str, row: Any, spans: list[Span], language: str) -> Json:
    try:
        own = [
            {
                "from": since.isoformat(),
                "part": _as_in_document(kind, part),
                "as": shown_as(part),
                "facts": list(facts_of(kind, part, language)),
            }
            for since, part in spans
        ]
    except DocumentFaults:
        return {}
    return {"id": str(row.pk), "name": row.name, "spans": own}


def _as_in_document(kind: str, part: Json) -> Json:
    """The part as a document holds it. Raises DocumentFaults."""
    member, items = {
        "people": ("people", [part]),
        "rigs": ("equipment", [part]),
        "labels": ("mixes", [{"products": [part]}]),
    }[kind]
    (held,) = as_json(read({"schema": DOCUMENT_SCHEMA, "record": {}, member: items}))[member]
    return dict(held["products"][0] if kind == "labels" else held)
