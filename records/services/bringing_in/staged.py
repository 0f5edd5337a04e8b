"""Rows that wait: packed as JSON when a file is looked at, and made of it when it is brought in."""

from collections.abc import Collection, Sequence
from typing import Any

from django.db.models import Model

from records.models import (
    Customer,
    LabelVersion,
    Licence,
    Lot,
    Person,
    Product,
    Site,
    Surface,
    Treatment,
    TreatmentProduct,
)
from records.register.terms import Term, each_once, term_of
from shared.tenancy import FirmOwned

MODELS: tuple[type[Model], ...] = (
    Customer,
    Site,
    Surface,
    Product,
    LabelVersion,
    Lot,
    Person,
    Licence,
    Treatment,
    TreatmentProduct,
)
"""Parents first."""
TERMS = "terms"
"""By what the register finds a treatment; they wait beside it."""
BY_NAME = {model._meta.model_name: model for model in MODELS}
Json = dict[str, Any]


def packed(row: FirmOwned) -> Json:
    values = {
        field.attname: field.get_prep_value(getattr(row, field.attname)) for field in row._meta.concrete_fields
    }
    return {
        "model": row._meta.model_name,
        "values": {name: value for name, value in values.items() if value != ""},
    }


def unpacked(waiting: Json) -> FirmOwned:
    return BY_NAME[waiting["model"]](**waiting["values"])


def packed_terms(treatment: Treatment, terms: Collection[Term]) -> Json:
    return {"model": TERMS, "treatment": str(treatment.pk), "values": [list(term) for term in sorted(terms)]}


def unpacked_terms(waiting: Json) -> tuple[str, set[Term]]:
    """By the id of their treatment. They are folded as terms are now: they may have waited for long."""
    return waiting["treatment"], each_once(term_of(kind, written) for kind, _then, written in waiting["values"])


def makes(rows: Sequence[FirmOwned]) -> list[list[str]]:
    """By model and id; product lines go with their treatment."""
    return [[row._meta.model_name, str(row.pk)] for row in rows if not isinstance(row, TreatmentProduct)]
