"""Bring in what waits, in steps that each are whole and tell how far it is; a broken turn goes on where it was.

Where a step can't be made, all that the file made before is taken back.
"""

import logging
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import F

from records.models import ArrivalFile, ArrivedRow, AuditEntry, Firm, Treatment, TreatmentProduct
from records.services.audit import entry_of, note
from records.services.bringing_in.old_numbers import give_numbers
from records.services.bringing_in.staged import MODELS, TERMS, unpacked, unpacked_terms
from records.services.bringing_in.undoing import remove_all
from records.services.findable import find_new_by
from shared import clock
from shared.tenancy import FirmOwned

logger = logging.getLogger(__name__)
STEP = 250
PARTS = (Treatment, TreatmentProduct)
"""What has no history of its own; that it was brought in its file tells."""
CHANGED = {
    "en": "The firm's own rows have changed since this was looked at, so nothing was brought in. Look again.",
    "es": "Las filas de la empresa han cambiado desde que se miró; no se incorporó nada. Mire otra vez.",
}
State = ArrivalFile.State


def bring_in(file: ArrivalFile, run: UUID) -> None:
    """Take the turn to its end; one that was overrun by another ends without a word."""
    after: int | None = 0
    try:
        while after is not None:
            after = _step(file, run, after)
    except Exception:
        logger.exception("The file %s could not be brought in", file.pk)
        remove_all(file, run, State.TAKING)
        own = ArrivalFile.objects.for_firm(file.firm).filter(pk=file.pk, run=run)
        own.update(state=State.SENT, faults=[{"row": 0, "column": "", "got": "", **CHANGED}], taken_by=None)


@transaction.atomic
def _step(file: ArrivalFile, run: UUID, after: int) -> int | None:
    """Make what waits from this place on; the place where it ended, None when there is nothing more to do."""
    own = ArrivalFile.objects.for_firm(file.firm).filter(pk=file.pk, run=run, state=State.TAKING)
    if own.select_for_update().first() is None:
        return None
    rows = ArrivedRow.objects.for_firm(file.firm).filter(file=file)
    waiting = rows.filter(place__gt=after).exclude(waits=[]).order_by("place")
    some = list(waiting.values_list("place", "waits")[:STEP])
    if not some:
        own.update(state=State.TAKEN, taken_at=clock.now(), noted_at=clock.now())
        note(AuditEntry.Kind.CHANGED, file, firm=file.firm, by=file.taken_by, reason="brought-in")
        return None
    _make_all(file, [each for _place, waits in some for each in waits])
    last = some[-1][0]
    rows.filter(place__gt=after, place__lte=last).update(waits=[])
    own.update(done=F("done") + len(some), noted_at=clock.now())
    return last


def _make_all(file: ArrivalFile, waiting: list[dict[str, Any]]) -> None:
    by_model: dict[Any, list[Any]] = {}
    for each in (unpacked(one) for one in waiting if one["model"] != TERMS):
        by_model.setdefault(type(each), []).append(each)
    give_numbers(file.firm, [each for each in by_model.get(Treatment, []) if not each.number])
    for model in MODELS:
        if made := by_model.get(model):
            _make(model, made, file)
    treatments = {str(each.pk): each for each in by_model.get(Treatment, [])}
    named = [unpacked_terms(one) for one in waiting if one["model"] == TERMS]
    find_new_by(file.firm, [(treatments[pk], terms) for pk, terms in named])


def _make(model: Any, rows: list[Any], file: ArrivalFile) -> None:
    _join_parents(model, rows, file.firm)
    model.objects.bulk_create(rows)
    if model in PARTS:
        return
    by, reason = file.taken_by, f"brought in: {file.name}"[:100]
    model.history.bulk_history_create(rows, default_user=by, default_change_reason=reason)
    created = AuditEntry.Kind.CREATED
    AuditEntry.objects.bulk_create(entry_of(created, row, firm=file.firm, by=by, reason=reason) for row in rows)


def _join_parents(model: Any, rows: list[Any], firm: Firm) -> None:
    """Look their parents up together, not each for itself."""
    for field in model._meta.concrete_fields:
        parent = field.related_model
        if not field.is_relation or not issubclass(parent, FirmOwned):
            continue
        keys = {key for row in rows if (key := getattr(row, field.attname))}
        found = parent.objects.for_firm(firm).in_bulk(keys)
        for row in rows:
            if (key := getattr(row, field.attname)) is not None:
                setattr(row, field.name, found[UUID(str(key))])
    for row in rows:
        row.firm = firm
