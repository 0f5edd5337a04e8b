"""Each change of a reference row, as its kept history tells it, is an entry of who did what.

Code that would get past the history, such as rows put in or changed in bulk, is refused by a test.
"""

import json
from typing import Any

from django.core.exceptions import ObjectDoesNotExist
from django.db.models import Model
from simple_history.signals import post_create_historical_record

from records.models import AuditEntry, Firm
from records.services.audit import Json, change, note
from shared.quantities import Quantity

KINDS = {"+": AuditEntry.Kind.CREATED, "~": AuditEntry.Kind.CHANGED, "-": AuditEntry.Kind.REMOVED}


def connect() -> None:
    post_create_historical_record.connect(note_change, dispatch_uid="who did what, of rows with a history")


def note_change(instance: Any, history_instance: Any, history_user: Any, **_kwargs: Any) -> None:
    """A receiver of `post_create_historical_record`. A row that was saved as it was is no change."""
    kind = KINDS[history_instance.history_type]
    changes = _changes(instance, history_instance)
    if not changes and kind == AuditEntry.Kind.CHANGED:
        return
    firm = instance if isinstance(instance, Firm) else instance.firm
    reason = history_instance.history_change_reason or ""
    note(kind, instance, firm=firm, by=history_user, changes=changes, reason=reason)


def _changes(row: Any, now: Any) -> list[Json]:
    if now.history_type == "~":
        before = row.history.filter(history_id__lt=now.history_id).order_by("-history_id").first()
        if before is None:
            return []
        delta = now.diff_against(before, foreign_keys_are_objs=True)
        return [change(each.field, _plain(each.old), _plain(each.new)) for each in delta.changes]
    values = {field.name: _value(row, field.name) for field in now.tracked_fields if field.editable}
    held = {name: _plain(value) for name, value in values.items() if value not in (None, "", [], {})}
    if now.history_type == "+":
        return [change(name, None, value) for name, value in held.items()]
    return [change(name, value, None) for name, value in held.items()]


def _value(row: Model, name: str) -> Any:
    try:
        return getattr(row, name)
    except ObjectDoesNotExist:
        return None


def _plain(value: Any) -> Any:
    """A column's value as JSON; a row that it points to by its name."""
    if isinstance(value, Quantity):
        return f"{value.value} {value.unit}"
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, list | dict):
        return json.loads(json.dumps(value, default=str))
    return str(value)
