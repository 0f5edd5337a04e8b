"""Take back what a file brought in, in steps. What somebody has used or changed since stays, and is told."""

from collections.abc import Iterator
from itertools import islice
from typing import Any
from uuid import UUID

from django.db import models, transaction

from records.models import ArrivalFile, ArrivedRow, AuditEntry, Treatment, TreatmentProduct, TreatmentTerm
from records.services.audit import note
from records.services.bringing_in.staged import MODELS
from records.services.findable import forget_unused_terms
from shared import clock

STEP = 250
MOST_TOLD = 100
HOLDS = (models.PROTECT, models.CASCADE, models.RESTRICT)
PROJECTED = (TreatmentProduct, TreatmentTerm)
"""Of a treatment's document: they go with it."""
State = ArrivalFile.State


def take_back(file: ArrivalFile, run: UUID) -> None:
    """Take the turn to its end; one that was overrun by another ends without a word."""
    stayed = remove_all(file, run, State.UNDOING)
    told = stayed[:MOST_TOLD] + ([f"+ {len(stayed) - MOST_TOLD}"] if len(stayed) > MOST_TOLD else [])
    with transaction.atomic():
        own = ArrivalFile.objects.for_firm(file.firm).filter(pk=file.pk, run=run, state=State.UNDOING)
        if own.update(state=State.UNDONE, undone_at=clock.now(), noted_at=clock.now(), stayed=told):
            note(AuditEntry.Kind.REMOVED, file, firm=file.firm, by=file.undone_by, reason="taken-back")


def remove_all(file: ArrivalFile, run: UUID, state: ArrivalFile.State) -> list[str]:
    """Children go before their parents. The names of what stayed."""
    made = _made(file)
    stayed: list[str] = []
    done = 0
    for model in reversed(MODELS):
        keys = iter(made.get(model._meta.model_name, []))
        while some := list(islice(keys, STEP)):
            done += len(some)
            with transaction.atomic():
                own = ArrivalFile.objects.for_firm(file.firm).filter(pk=file.pk, run=run, state=state)
                if not own.update(done=done, noted_at=clock.now()):
                    return stayed
                stayed += _remove(model, some, file)
    forget_unused_terms(file.firm)
    return stayed


def count_made(file: ArrivalFile) -> int:
    return sum(len(keys) for keys in _made(file).values())


def _made(file: ArrivalFile) -> dict[str, list[str]]:
    rows = ArrivedRow.objects.for_firm(file.firm).filter(file=file).exclude(makes=[])
    made: dict[str, list[str]] = {}
    for makes in rows.values_list("makes", flat=True).iterator():
        for model, pk in makes:
            made.setdefault(model, []).append(pk)
    return made


def _remove(model: Any, keys: list[str], file: ArrivalFile) -> list[str]:
    """Remove those that nobody used or changed; the names of the others."""
    rows = model.objects.for_firm(file.firm).filter(pk__in=keys)
    if model is Treatment:
        rows = rows.filter(state=Treatment.State.BROUGHT_IN)
    kept = {*_used(model, rows, file), *_changed(model, keys, file)}
    rows.exclude(pk__in=kept).delete()
    return [str(row) for row in rows.filter(pk__in=kept)]


def _used(model: Any, rows: Any, file: ArrivalFile) -> Iterator[Any]:
    for relation in model._meta.get_fields(include_hidden=True):
        if not relation.auto_created or relation.concrete or getattr(relation, "on_delete", None) not in HOLDS:
            continue
        child = relation.related_model
        if child not in PROJECTED:
            users = child.objects.for_firm(file.firm).filter(**{f"{relation.field.name}__in": rows})
            yield from users.values_list(relation.field.attname, flat=True)


def _changed(model: Any, keys: list[str], file: ArrivalFile) -> Iterator[Any]:
    if hasattr(model, "history"):
        past = model.history.for_firm(file.firm).filter(uuid__in=keys, history_type="~")
        yield from past.values_list("uuid", flat=True)
